#include "drawing/frost_line.h"
#include "drawing/callout.h"
#include "drawing/chart.h"
#include "drawing/series.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

double half_width(double u95)
{
    return drawable(u95) ? std::abs(u95) : 0.0;
}

ChartPlan plan_for(FrostLine const& f)
{
    Extent x, y;
    x.take(0.0);
    for (Point const p : f.line) {
        x.take(p.x);
        y.take(p.y);
    }
    for (auto const& [point, u95] : {std::pair{f.read, f.read_u95}, std::pair{f.at_gas, f.at_gas_u95}})
        if (point) {
            x.take(point->x);
            y.take(point->y - half_width(u95));
            y.take(point->y + half_width(u95));
        }
    if (f.limit_c)
        y.take(*f.limit_c);
    double const margin = y.any ? 0.06 * (y.high - y.low) : 0.0;
    ChartPlan plan;
    plan.x_high = x.high > 0.0 ? x.high * 1.04 : 1.0;
    plan.grow_x = false;
    plan.y_low = y.any ? y.low - margin : -60.0;
    plan.y_high = y.any ? y.high + margin : 0.0;
    plan.x_titles = f.x_titles;
    plan.y_titles = f.y_titles;
    return plan;
}

void draw_point(Chart& chart, Point p, double u95, bool filled)
{
    if (u95 > 0.0 && drawable(p.x) && drawable(p.y)) {
        double const cap = 0.9 / chart.plot().width() * (chart.x().high - chart.x().low);
        chart.curve({{p.x, p.y - u95}, {p.x, p.y + u95}}, Ink::line, 0.4);
        chart.curve({{p.x - cap, p.y - u95}, {p.x + cap, p.y - u95}}, Ink::line, 0.4);
        chart.curve({{p.x - cap, p.y + u95}, {p.x + cap, p.y + u95}}, Ink::line, 0.4);
    }
    chart.reading(p, 1.3, filled ? Ink::accent : Ink::line, filled);
}

std::string spoken(FrostLine const& f)
{
    std::string text = "Frost point against pressure";
    for (auto const& part : {f.line_label, f.read_label, f.gas_label, f.limit_label})
        if (!part.empty())
            text += "; " + part;
    return text + ".";
}

} // namespace

Picture frost_line(FrostLine const& f, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(f);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    Chart chart(picture, placement, plan_for(f), body_size(space));
    chart.grid();
    placement.patches_from_here(picture);
    if (f.limit_c && drawable(*f.limit_c))
        draw_level(chart, *f.limit_c, Ink::line, Dash::dotted);
    if (f.at_gas && drawable(f.at_gas->x))
        chart.curve({{f.at_gas->x, chart.y().low}, {f.at_gas->x, chart.y().high}}, Ink::muted, 0.25,
                    Dash::dashed);
    chart.curve(f.line, Ink::accent, 0.5);
    chart.frame();
    if (f.read)
        draw_point(chart, *f.read, half_width(f.read_u95), false);
    if (f.at_gas)
        draw_point(chart, *f.at_gas, half_width(f.at_gas_u95), true);
    if (f.limit_c)
        name_level(picture, placement, chart, {*f.limit_c, f.limit_label}, Ink::text);
    if (f.at_gas && drawable(f.at_gas->x) && drawable(f.at_gas->y))
        put_callout(picture, placement,
                    {chart.at(*f.at_gas), f.gas_label, chart.size(), Ink::accent, Face::bold}, chart.plot());
    if (f.read && drawable(f.read->x) && drawable(f.read->y))
        put_callout(picture, placement, {chart.at(*f.read), f.read_label, chart.size(), Ink::text},
                    chart.plot());
    auto const line = chart.at(f.line);
    if (!line.empty() && !f.line_label.empty())
        placement.put(
            picture, {{}, f.line_label, chart.size(), Ink::accent},
            offers_along(line, measure(f.line_label, Face::regular, chart.size()), chart.size(), true),
            {chart.plot(), true, 9.0});
    return picture;
}

} // namespace isochore::drawing
