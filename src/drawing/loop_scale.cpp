#include "drawing/loop_scale.h"
#include "drawing/callout.h"
#include "drawing/chart.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

constexpr double zero_ma = 4.0, full_ma = 20.0;
constexpr double axis_ma = 24.0; ///< a little beyond where a short shows

double value_at(LoopScale const& l, double milliampere)
{
    return l.low + (milliampere - zero_ma) / (full_ma - zero_ma) * (l.high - l.low);
}

/// A band in which the loop has failed: hatched, so that it is told from the paper without colour.
void failed_band(Picture& picture, Chart const& chart, double from_ma, double to_ma)
{
    Box const plot = chart.plot();
    double const left = std::clamp(chart.at(from_ma, 0.0).x, plot.left, plot.right);
    double const right = std::clamp(chart.at(to_ma, 0.0).x, plot.left, plot.right);
    if (right - left < 0.3)
        return;
    constexpr double step = 2.4;
    for (double start = plot.top; start < plot.bottom + (right - left); start += step) {
        // A line falling to the left at 45 degrees, cut at the band.
        double const x0 = right, y0 = start - (right - left);
        double top_x = x0, top_y = y0;
        if (top_y < plot.top) {
            top_x -= plot.top - top_y;
            top_y = plot.top;
        }
        double low_x = left, low_y = start;
        if (low_y > plot.bottom) {
            low_x += low_y - plot.bottom;
            low_y = plot.bottom;
        }
        if (top_x > low_x)
            picture.line({top_x, top_y}, {low_x, low_y}, Ink::faint, 0.3);
    }
    for (double const x : {left, right})
        if (x > plot.left + 0.1 && x < plot.right - 0.1)
            picture.line({x, plot.top}, {x, plot.bottom}, Ink::line, 0.3, Dash::dashed);
}

void name_band(Picture& picture, Placement& placement, Chart const& chart, double from_ma, double to_ma,
               std::string const& text)
{
    Box const plot = chart.plot();
    double const middle = (chart.at(std::max(from_ma, chart.x().low), 0.0).x +
                           chart.at(std::min(to_ma, chart.x().high), 0.0).x) /
                          2.0;
    double const half = placement.measure()(text, Face::regular, chart.size()) / 2.0;
    double const x =
        std::clamp(middle, plot.left + half + 0.4, std::max(plot.left + half + 0.4, plot.right - half - 0.4));
    double const top = plot.top + 1.3 * chart.size();
    placement.put(picture, {{}, text, chart.size(), Ink::muted},
                  {{{x, top}, Align::centre, 0.0},
                   {{x, top + 1.4 * chart.size()}, Align::centre, 1.0},
                   {{x, plot.bottom - chart.size()}, Align::centre, 2.0}},
                  {plot, true, 1e9, std::nullopt});
}

void level(Picture& picture, Placement& placement, Chart& chart, LoopScale const& l, LoopPoint const& p)
{
    double const value = value_at(l, p.milliampere);
    Box const plot = chart.plot();
    Point const at = chart.at(p.milliampere, value);
    if (!plot.grown(0.01).holds(at))
        return;
    picture.line(at, {at.x, plot.bottom}, Ink::line, 0.3, Dash::dotted);
    placement.avoid({at, {at.x, plot.bottom}}, 4.0);
    picture.dot(at, 1.0, Ink::line);
    put_callout(picture, placement, {at, p.label, chart.size(), Ink::text, Face::regular, 2.0}, plot);
}

std::string spoken(LoopScale const& l)
{
    std::string text = fmt::format("Loop from 4 mA at {:.4g} to 20 mA at {:.4g}", l.low, l.high);
    if (l.reading)
        text += "; now " + l.reading->label;
    for (auto const& p : l.levels)
        text += "; " + p.label;
    return text + ".";
}

} // namespace

Picture loop_scale(LoopScale const& l, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(l);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    ChartPlan plan;
    plan.x_low = 0.0;
    plan.x_high = axis_ma;
    plan.grow_x = false;
    plan.y_low = l.low;
    plan.y_high = l.high > l.low ? l.high : l.low + 1.0;
    plan.x_titles = l.x_titles;
    plan.y_titles = l.y_titles;
    Chart chart(picture, placement, plan, body_size(space));
    chart.grid();
    failed_band(picture, chart, 0.0, l.open_below);
    failed_band(picture, chart, l.short_above, axis_ma);
    placement.patches_from_here(picture);
    chart.curve({{zero_ma, value_at(l, zero_ma)}, {full_ma, value_at(l, full_ma)}}, Ink::line, 0.6);
    chart.frame();
    if (l.reading && drawable(l.reading->milliampere)) {
        double const ma = std::clamp(l.reading->milliampere, 0.0, axis_ma);
        // A current outside 4 to 20 mA means no value: it stands on the axis of the currents.
        bool const means = ma >= zero_ma && ma <= full_ma;
        double const y = means ? value_at(l, ma) : chart.y().low;
        Point const at = chart.at(ma, y);
        Box const plot = chart.plot();
        if (means) {
            picture.line(at, {at.x, plot.bottom}, Ink::accent, 0.5);
            picture.line(at, {plot.left, at.y}, Ink::accent, 0.5);
            placement.avoid({at, {at.x, plot.bottom}}, 8.0);
            placement.avoid({at, {plot.left, at.y}}, 8.0);
        }
        picture.dot(at, 1.6, Ink::accent);
        Box room = plot;
        if (means) { // its words keep out of the hatching of the bands that failed
            room.left = std::clamp(chart.at(l.open_below, 0.0).x, plot.left, at.x);
            room.right = std::clamp(chart.at(l.short_above, 0.0).x, at.x, plot.right);
        }
        Callout const words{at, l.reading->label, chart.size() * 1.25, Ink::accent, Face::bold, 2.6};
        if (!put_callout(picture, placement, words, room))
            put_callout(picture, placement, words, plot);
    }
    for (auto const& p : l.levels)
        if (drawable(p.milliampere))
            level(picture, placement, chart, l, p);
    name_band(picture, placement, chart, 0.0, l.open_below, l.open_label);
    name_band(picture, placement, chart, l.short_above, axis_ma, l.short_label);
    return picture;
}

} // namespace isochore::drawing
