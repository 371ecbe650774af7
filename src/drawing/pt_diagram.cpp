#include "drawing/pt_diagram.h"
#include "drawing/callout.h"
#include "drawing/clip.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

ChartPlan plan_for(PtDiagram const& d)
{
    Extent t, p;
    for (auto const& line : d.isochores)
        for (Point const v : line.points) {
            t.take(v.x);
            p.take(v.y);
        }
    auto const take = [&](double temperature, double pressure, double margin) {
        t.take(temperature);
        p.take(pressure - margin);
        p.take(pressure + margin);
    };
    if (d.live)
        take(d.live->temperature_c, d.live->pressure_mpa, d.live->pressure_u95);
    if (d.target)
        take(d.target->temperature_c, d.target->pressure_mpa, 0.0);
    if (d.temperature_now_c)
        t.take(*d.temperature_now_c);
    if (!t.any)
        t = {-40.0, 60.0, true};
    if (!p.any)
        p = {0.0, 1.0, true};
    double const air = (p.high - p.low) * 0.12; // so that the lowest and highest line do not hug the frame
    ChartPlan plan;
    plan.x_low = d.temperature_low_c.value_or(t.low);
    plan.x_high = d.temperature_high_c.value_or(t.high);
    plan.y_low = d.pressure_low_mpa.value_or(std::max(0.0, p.low - air));
    plan.y_high = d.pressure_high_mpa.value_or(p.high + air);
    plan.grow_x = !d.temperature_low_c && !d.temperature_high_c;
    plan.grow_y = !d.pressure_low_mpa && !d.pressure_high_mpa;
    plan.x_titles = d.x_titles;
    plan.y_titles = d.y_titles;
    plan.second = d.second;
    return plan;
}

/// Shades what lies on the cold side of the dew line and names it.
void draw_liquid(PtDiagram const& d, Chart& chart, Picture& picture)
{
    std::vector<Point> line;
    for (Point const v : d.dew_line)
        if (drawable(v.x) && drawable(v.y))
            line.push_back(v);
    if (line.size() < 2)
        return;
    double const far_cold = std::min(chart.x().low, line.front().x) - 1.0;
    double const far_up = std::max(chart.y().high, line.back().y) + 1.0;
    auto region = line;
    region.push_back({line.back().x, far_up});
    region.push_back({far_cold, far_up});
    region.push_back({far_cold, line.front().y});
    auto const shape = clip_area(chart.at(region), chart.plot());
    if (shape.size() > 2)
        picture.area(shape, Ink::panel);
    chart.curve(line, Ink::line, 0.6);
}

void name_liquid(PtDiagram const& d, Chart const& chart, Placement& placement, Picture& picture)
{
    auto const line = chart.at(d.dew_line);
    if (line.size() < 2)
        return;
    double const size = chart.size();
    double const width = placement.measure()(d.liquid, Face::regular, size);
    auto offers = offers_within(chart.plot(), {chart.plot().left, chart.plot().top}, width, size);
    std::erase_if(offers, [&](auto const& o) {
        double const right = o.at.x + width + 0.6;
        return right > line.back().x || o.at.y + ink_below * size + 0.4 > height_at(line, right);
    });
    placement.put(picture, {{}, d.liquid, size, Ink::muted}, offers);
}

Dash dash_of(Isochore::Kind kind)
{
    switch (kind) {
    case Isochore::Kind::filling:
        return Dash::solid;
    case Isochore::Kind::warn:
        return Dash::dashed;
    case Isochore::Kind::lockout:
        break;
    }
    return Dash::dotted;
}

void name_isochores(PtDiagram const& d, Chart const& chart, Placement& placement, Picture& picture)
{
    constexpr double clean = 9.0; // dearer places have a line through the text
    for (auto const& line : d.isochores) {
        auto const runs = clip_line(chart.at(line.points), chart.plot());
        if (runs.empty())
            continue;
        auto const try_put = [&](std::string const& text, double dearest) {
            double const width = placement.measure()(text, Face::regular, chart.size());
            return !text.empty() && placement.put(picture, {{}, text, chart.size(), Ink::text},
                                                  offers_along(runs.back(), width, chart.size(), true),
                                                  {chart.plot(), true, dearest});
        };
        if (try_put(line.label, clean) || try_put(line.brief, clean))
            continue;
        // No room along the line: a leader from near its end.
        auto const& run = runs.back();
        double const x = run.front().x + 0.9 * (run.back().x - run.front().x);
        put_callout(picture, placement,
                    {{x, height_at(run, x)},
                     line.brief.empty() ? line.label : line.brief,
                     chart.size(),
                     Ink::text,
                     Face::regular,
                     1.0},
                    chart.plot());
    }
}

void draw_now(PtDiagram const& d, Chart& chart)
{
    if (d.temperature_now_c && drawable(*d.temperature_now_c))
        chart.curve({{*d.temperature_now_c, chart.y().low}, {*d.temperature_now_c, chart.y().high}},
                    Ink::accent, 0.3, Dash::dashed);
}

void draw_box(LiveState const& live, Chart& chart, Picture& picture)
{
    double const dt = std::abs(live.temperature_u95), dp = std::abs(live.pressure_u95);
    if (!drawable(dt) || !drawable(dp) || (dt == 0.0 && dp == 0.0))
        return;
    std::vector<Point> const corners{{live.temperature_c - dt, live.pressure_mpa - dp},
                                     {live.temperature_c + dt, live.pressure_mpa - dp},
                                     {live.temperature_c + dt, live.pressure_mpa + dp},
                                     {live.temperature_c - dt, live.pressure_mpa + dp}};
    auto shape = clip_area(chart.at(corners), chart.plot());
    if (shape.size() < 3)
        return;
    Polyline run;
    run.points = std::move(shape);
    run.ink = Ink::accent;
    run.width = 0.25;
    run.closed = run.filled = true;
    run.fill = Ink::accent_soft;
    picture.items.emplace_back(std::move(run));
}

std::string spoken(PtDiagram const& d)
{
    std::string text = "Pressure against gas temperature";
    if (d.live)
        text +=
            fmt::format(": {:.4g} MPa absolute at {:.3g} °C", d.live->pressure_mpa, d.live->temperature_c);
    if (d.live && !d.live->label.empty())
        text += ", " + d.live->label;
    if (d.target)
        text += "; " + (d.target->label.empty()
                            ? fmt::format("target {:.4g} MPa absolute", d.target->pressure_mpa)
                            : d.target->label);
    for (auto const& line : d.isochores)
        if (!line.label.empty())
            text += "; line " + line.label;
    return text + ".";
}

} // namespace

Picture pt_diagram(PtDiagram const& d, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(d);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    Chart chart(picture, placement, plan_for(d), body_size(space));
    chart.grid();
    draw_now(d, chart);
    placement.patches_from_here(picture); // labels interrupt the grid and the line of now, never a curve
    draw_liquid(d, chart, picture);
    for (auto const& line : d.isochores)
        chart.curve(line.points, Ink::line, line.kind == Isochore::Kind::filling ? 0.6 : 0.5,
                    dash_of(line.kind));
    if (d.live)
        draw_box(*d.live, chart, picture);
    chart.frame();
    if (d.target)
        chart.reading({d.target->temperature_c, d.target->pressure_mpa}, 1.3, Ink::accent, false);
    if (d.live)
        chart.reading({d.live->temperature_c, d.live->pressure_mpa}, 1.2, Ink::accent, true);
    name_isochores(d, chart, placement, picture);
    if (d.live)
        put_callout(picture, placement,
                    {chart.at(d.live->temperature_c, d.live->pressure_mpa), d.live->label, chart.size(),
                     Ink::accent, Face::bold},
                    chart.plot());
    if (d.target)
        put_callout(picture, placement,
                    {chart.at(d.target->temperature_c, d.target->pressure_mpa), d.target->label, chart.size(),
                     Ink::accent},
                    chart.plot());
    name_liquid(d, chart, placement, picture);
    return picture;
}

} // namespace isochore::drawing
