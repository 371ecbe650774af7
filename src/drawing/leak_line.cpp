#include "drawing/leak_line.h"
#include "drawing/callout.h"
#include "drawing/series.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

ChartPlan plan_for(LeakLine const& leak)
{
    Extent t, y;
    for (auto const& r : leak.readings) {
        t.take(r.x);
        double const margin = drawable(r.u95) ? std::abs(r.u95) : 0.0;
        y.take(r.y - margin);
        y.take(r.y + margin);
    }
    for (auto const* line : {&leak.fit, &leak.limit})
        for (Point const p : *line) {
            t.take(p.x);
            y.take(p.y);
        }
    for (auto const& level : leak.levels)
        y.take(level.value);
    for (auto const& b : leak.band) {
        t.take(b.x);
        y.take(b.low);
        y.take(b.high);
    }
    ChartPlan plan;
    plan.x_low = t.any ? std::min(0.0, t.low) : 0.0;
    plan.x_high = t.any && t.high > plan.x_low ? t.high : plan.x_low + 1.0;
    plan.y_low = y.any ? y.low : 0.0;
    plan.y_high = y.any ? y.high : 1.0;
    plan.x_titles = leak.x_titles;
    plan.y_titles = leak.y_titles;
    return plan;
}

void draw_reading(MarkedReading const& r, Chart& chart, double cap)
{
    if (drawable(r.u95) && r.u95 != 0.0 && drawable(r.x) && drawable(r.y)) {
        double const half = cap / chart.plot().width() * (chart.x().high - chart.x().low);
        double const low = r.y - std::abs(r.u95), high = r.y + std::abs(r.u95);
        chart.curve({{r.x, low}, {r.x, high}}, Ink::line, 0.3);
        chart.curve({{r.x - half, low}, {r.x + half, low}}, Ink::line, 0.3);
        chart.curve({{r.x - half, high}, {r.x + half, high}}, Ink::line, 0.3);
    }
    chart.reading({r.x, r.y}, 1.1, Ink::line, false);
}

std::string spoken(LeakLine const& leak)
{
    std::string text = fmt::format("Tightness over time, {} readings", leak.readings.size());
    for (auto const& part : {leak.result_label, leak.limit_label})
        if (!part.empty())
            text += "; " + part;
    return text + ".";
}

/// Where the fitted line's name points: a third along it, clear of the limit's name at the end.
Point middle_of(std::vector<Point> const& line)
{
    Point const a = line.front(), b = line.back();
    return {a.x + (b.x - a.x) * 0.4, a.y + (b.y - a.y) * 0.4};
}

} // namespace

Picture leak_line(LeakLine const& leak, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(leak);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    Chart chart(picture, placement, plan_for(leak), body_size(space));
    chart.grid();
    placement.patches_from_here(picture);
    draw_band(chart, leak.band);
    for (auto const& level : leak.levels)
        chart.curve({{chart.x().low, level.value}, {chart.x().high, level.value}}, Ink::line, 0.35,
                    Dash::dashed);
    chart.curve(leak.limit, Ink::line, 0.45, Dash::dotted);
    chart.curve(leak.fit, Ink::accent, 0.55);
    chart.frame();
    for (auto const& r : leak.readings)
        draw_reading(r, chart, 0.9);
    for (auto const& level : leak.levels) {
        auto const line = chart.at({Point{chart.x().low, level.value}, Point{chart.x().high, level.value}});
        placement.put(picture, {{}, level.label, chart.size(), Ink::text},
                      offers_along(line, measure(level.label, Face::regular, chart.size()), chart.size()),
                      {chart.plot(), true});
    }
    auto const limit = chart.at(leak.limit);
    if (!limit.empty() && !leak.limit_label.empty())
        placement.put(
            picture, {{}, leak.limit_label, chart.size(), Ink::text},
            offers_along(limit, measure(leak.limit_label, Face::regular, chart.size()), chart.size()),
            {chart.plot(), true});
    if (auto const fit = chart.at(leak.fit); !fit.empty())
        put_callout(picture, placement,
                    {middle_of(fit), leak.result_label, chart.size(), Ink::accent, Face::bold, 1.6},
                    chart.plot());
    return picture;
}

} // namespace isochore::drawing
