#include "drawing/reading_scale.h"
#include "drawing/bar_rows.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

BarRow row_of(ScaledReading const& reading, bool expected)
{
    BarRow row;
    row.name = reading.name;
    row.value = reading.value;
    row.from = row.to = reading.at;
    row.look = BarRow::Look::points;
    row.ink = expected ? Ink::line : reading.here ? Ink::accent : Ink::muted;
    row.strong = !expected && reading.here;
    row.points = {reading.at};
    return row;
}

/// The expectation and the readings with air around them; a limit far off is left out rather than have it
/// press them together.
Extent extent_of(ReadingScale const& s)
{
    Extent e;
    for (double const value : {s.expected.at, s.low, s.high})
        e.take(value);
    for (auto const& reading : s.readings)
        e.take(reading.at);
    if (!e.any)
        return e;
    double const middle = (e.low + e.high) / 2.0;
    double const reach = std::max({3.0 * (e.high - e.low), 0.01 * std::abs(middle), 1e-12});
    for (auto const& limit : s.limits)
        if (drawable(limit.at) && std::abs(limit.at - middle) <= reach)
            e.take(limit.at);
    double const air = std::max({0.18 * (e.high - e.low), 0.004 * std::abs(middle), 1e-12});
    e.low -= air;
    e.high += air;
    return e;
}

BarPlan bars_of(ReadingScale const& s, double width, double size)
{
    BarPlan plan;
    Extent const e = extent_of(s);
    plan.rows.push_back(row_of(s.expected, true));
    if (s.high > s.low) {
        plan.rows.back().low = s.low;
        plan.rows.back().high = s.high;
        plan.band = {s.low, s.high};
    }
    for (auto const& reading : s.readings)
        plan.rows.push_back(row_of(reading, false));
    for (auto const& limit : s.limits)
        if (drawable(limit.at) && limit.at >= e.low && limit.at <= e.high)
            plan.lines.push_back({limit.at, limit.label, Ink::text, Dash::dashed});
    int const most = std::clamp(static_cast<int>(0.5 * width / (3.6 * size)), 2, 6);
    // One figure alone is no scale.
    for (int ticks = most; ticks < most + 4 && plan.scale.ticks.size() < 2; ++ticks)
        plan.scale = nice_axis(e.low, e.any ? e.high : 1.0, ticks, false);
    plan.titles = s.titles;
    return plan;
}

std::string spoken(ReadingScale const& s)
{
    std::string text = fmt::format("{} {}", s.expected.name, s.expected.value);
    if (s.high > s.low)
        text += fmt::format(", 95 % between {:g} and {:g}", s.low, s.high);
    for (auto const& reading : s.readings)
        text += fmt::format("; {} {}", reading.name, reading.value);
    for (auto const& limit : s.limits)
        text += "; " + limit.label;
    return text + (s.conclusion.text.empty() ? "." : "; " + s.conclusion.text + ".");
}

} // namespace

Picture reading_scale(ReadingScale const& s, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(s);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    double const body = body_size(space);
    Footing const footing({s.conclusion}, space, body, 0.3 * space.height_mm, measure);
    BarPlan const plan = bars_of(s, space.width_mm, body);
    // Few rows do not need the height of many: the scale stays near its readings, the conclusion below it.
    double const most = bar_rows_height(plan.rows.size(), !plan.lines.empty(), true, body) +
                        3.4 * body * static_cast<double>(plan.rows.size());
    // The sheet puts its sign for the large picture into the corner, where the first row's value would end.
    constexpr double corner = 5.2;
    Box const area{0.0, corner, space.width_mm, std::min(space.height_mm - footing.height(), most + corner)};
    BarRows const rows(picture, placement, plan, area,
                       bar_rows_size(plan, area, body, body_size({0.0, 0.0}), measure));
    footing.draw_from(area.bottom, picture, measure);
    return picture;
}

} // namespace isochore::drawing
