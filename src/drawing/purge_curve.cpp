#include "drawing/purge_curve.h"
#include "drawing/callout.h"
#include "drawing/clip.h"
#include "drawing/series.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

ChartPlan plan_for(PurgeCurve const& c)
{
    Extent t, y;
    t.take(0.0);
    for (Point const p : c.readings) {
        t.take(p.x);
        y.take(p.y);
    }
    for (Point const p : c.fit) {
        t.take(p.x);
        y.take(std::clamp(p.y, 0.0, 100.0));
    }
    for (auto const& level : {c.limit, c.plateau})
        if (level)
            y.take(level->value);
    if (c.purity_low)
        y.take(*c.purity_low);
    if (c.minutes_high)
        t.take(*c.minutes_high);
    ChartPlan plan;
    plan.x_low = t.low;
    plan.x_high = t.high > t.low ? t.high : t.low + 10.0;
    plan.y_low = y.any ? y.low : 0.0;
    plan.y_high = y.any ? std::max(y.high, y.high > 90.0 ? 100.0 : y.high) : 100.0;
    plan.x_titles = c.x_titles;
    plan.y_titles = c.y_titles;
    return plan;
}

/// Splits the fit at the last reading: what was seen, and what is expected.
void draw_fit(PurgeCurve const& c, Chart& chart)
{
    Extent seen;
    for (Point const p : c.readings)
        seen.take(p.x);
    std::vector<Point> past, future;
    for (Point const p : c.fit) {
        if (!seen.any || p.x <= seen.high)
            past.push_back(p);
        else
            future.push_back(p);
    }
    if (!past.empty() && !future.empty())
        future.insert(future.begin(), past.back());
    chart.curve(past, Ink::accent, 0.5);
    chart.curve(future, Ink::accent, 0.5, Dash::dashed);
}

std::string spoken(PurgeCurve const& c)
{
    std::string text = fmt::format("Purity against time, {} readings", c.readings.size());
    if (!c.readings.empty())
        text += fmt::format(", the last {:.4g} % at {:.3g} min", c.readings.back().y, c.readings.back().x);
    for (auto const& level : {c.plateau, c.limit})
        if (level && !level->label.empty())
            text += "; " + level->label;
    return text + ".";
}

} // namespace

Picture purge_curve(PurgeCurve const& c, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(c);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    Chart chart(picture, placement, plan_for(c), body_size(space));
    chart.grid();
    placement.patches_from_here(picture);
    draw_band(chart, c.band);
    if (c.limit)
        draw_level(chart, c.limit->value, Ink::line, Dash::dotted);
    draw_fit(c, chart);
    chart.frame();
    for (Point const p : c.readings)
        chart.reading(p, 1.2, Ink::line, false);
    if (c.limit)
        name_level(picture, placement, chart, *c.limit, Ink::text);
    if (c.plateau)
        name_plateau(picture, placement, chart, *c.plateau);
    return picture;
}

} // namespace isochore::drawing
