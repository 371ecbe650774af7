#include "drawing/thread_plane.h"
#include "drawing/callout.h"
#include "drawing/chart.h"
#include "drawing/footing.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <tuple>

namespace isochore::drawing {

namespace {

ChartPlan plan_for(ThreadPlane const& p)
{
    Extent d, s;
    d.take(p.diameter_mm - p.diameter_u95_mm);
    d.take(p.diameter_mm + p.diameter_u95_mm);
    if (p.pitch_mm) {
        s.take(*p.pitch_mm - p.pitch_u95_mm);
        s.take(*p.pitch_mm + p.pitch_u95_mm);
    }
    for (auto const& spot : p.spots) {
        d.take(spot.diameter_mm - spot.half_range_mm);
        d.take(spot.diameter_mm + spot.half_range_mm);
        s.take(spot.pitch_mm);
    }
    // Room around the outermost for their names, and never so near that noise looks like a difference.
    auto const widened = [](Extent const& e, double least) {
        double const half = std::max(e.high - e.low, least) * 0.62;
        return std::pair{(e.low + e.high) / 2.0 - half, (e.low + e.high) / 2.0 + half};
    };
    ChartPlan plan;
    std::tie(plan.x_low, plan.x_high) = widened(d, 0.8);
    std::tie(plan.y_low, plan.y_high) = widened(s, 0.3);
    plan.grow_x = plan.grow_y = false;
    plan.x_titles = p.x_titles;
    plan.y_titles = p.y_titles;
    return plan;
}

/// A bar with caps, `cap` mm to each side of it.
void bar(Chart& chart, Point a, Point b, double cap, Ink ink, double width)
{
    chart.curve({a, b}, ink, width);
    bool const lying = a.y == b.y;
    double const across = lying ? cap / chart.plot().height() * (chart.y().high - chart.y().low)
                                : cap / chart.plot().width() * (chart.x().high - chart.x().low);
    for (Point const end : {a, b})
        lying ? chart.curve({{end.x, end.y - across}, {end.x, end.y + across}}, ink, width)
              : chart.curve({{end.x - across, end.y}, {end.x + across, end.y}}, ink, width);
}

/// Where the measurement leaves the thread, 95 %: a field, or a stripe while the pitch is not known.
void draw_measured(ThreadPlane const& p, Chart& chart)
{
    double const left = p.diameter_mm - p.diameter_u95_mm, right = p.diameter_mm + p.diameter_u95_mm;
    double const low = p.pitch_mm ? *p.pitch_mm - p.pitch_u95_mm : chart.y().low;
    double const high = p.pitch_mm ? *p.pitch_mm + p.pitch_u95_mm : chart.y().high;
    chart.area({{left, low}, {right, low}, {right, high}, {left, high}}, Ink::accent_soft);
}

void draw_cross(ThreadPlane const& p, Chart& chart)
{
    if (!p.pitch_mm) {
        chart.curve({{p.diameter_mm, chart.y().low}, {p.diameter_mm, chart.y().high}}, Ink::accent, 0.5);
        return;
    }
    double const d = p.diameter_mm, s = *p.pitch_mm;
    bar(chart, {d - p.diameter_u95_mm, s}, {d + p.diameter_u95_mm, s}, 1.0, Ink::accent, 0.55);
    bar(chart, {d, s - p.pitch_u95_mm}, {d, s + p.pitch_u95_mm}, 1.0, Ink::accent, 0.55);
}

void draw_spot(ThreadSpot const& spot, bool best, Chart& chart)
{
    if (!drawable(spot.diameter_mm) || !drawable(spot.pitch_mm))
        return;
    if (spot.half_range_mm > 0.0)
        bar(chart, {spot.diameter_mm - spot.half_range_mm, spot.pitch_mm},
            {spot.diameter_mm + spot.half_range_mm, spot.pitch_mm}, 0.8, Ink::line, 0.35);
    chart.reading({spot.diameter_mm, spot.pitch_mm}, best ? 1.3 : 1.1, Ink::line, best);
}

std::string spoken(ThreadPlane const& p)
{
    std::string text = fmt::format("Threads by diameter and pitch; measured {:.2f} ± {:.2f} mm",
                                   p.diameter_mm, p.diameter_u95_mm);
    if (p.pitch_mm)
        text += fmt::format(", pitch {:.2f} ± {:.2f} mm", *p.pitch_mm, p.pitch_u95_mm);
    for (auto const& spot : p.spots)
        text += "; " + spot.label;
    for (auto const& part : {p.result, p.next})
        if (!part.empty())
            text += "; " + part;
    return text + ".";
}

} // namespace

Picture thread_plane(ThreadPlane const& p, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(p);
    double const size = body_size(space);
    Footing const footing({conclusion(p.result, p.verdict), {p.next}}, space, size, space.height_mm * 0.34,
                          measure);
    // The chart leaves the corner to the sheet's sign for the large picture.
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm - footing.height()}, measure);
    Chart chart(picture, placement, plan_for(p), size);
    chart.grid();
    placement.patches_from_here(picture);
    draw_measured(p, chart);
    chart.frame();
    draw_cross(p, chart);
    for (std::size_t i = p.spots.size(); i-- > 0;)
        draw_spot(p.spots[i], i == 0, chart);
    for (std::size_t i = 0; i < p.spots.size(); ++i)
        if (drawable(p.spots[i].diameter_mm) && drawable(p.spots[i].pitch_mm))
            put_callout(picture, placement,
                        {chart.at(p.spots[i].diameter_mm, p.spots[i].pitch_mm), p.spots[i].label, size,
                         Ink::text, i == 0 ? Face::bold : Face::regular, 1.9},
                        chart.plot());
    if (p.pitch_mm && drawable(p.diameter_mm) && drawable(*p.pitch_mm))
        put_callout(
            picture, placement,
            {chart.at(p.diameter_mm, *p.pitch_mm), p.measured_label, size, Ink::accent, Face::regular, 1.9},
            chart.plot());
    footing.draw(picture, measure);
    return picture;
}

} // namespace isochore::drawing
