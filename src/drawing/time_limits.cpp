#include "drawing/time_limits.h"
#include "drawing/bar_rows.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::drawing {

namespace {

std::string span_text(TimeLimit const& limit)
{
    if (!drawable(limit.high_ms) || !drawable(limit.low_ms))
        return "?";
    std::string text = limit.low_ms > 0.0 ? fmt::format("{:.3g} … {:.3g} ms", limit.low_ms, limit.high_ms)
                                          : fmt::format("≤ {:.3g} ms", limit.high_ms);
    return text;
}

BarPlan bars_of(TimeLimits const& t, double width, double size)
{
    BarPlan plan;
    Extent e;
    e.take(0.0);
    e.take(t.arc_out_ms);
    for (auto const& limit : t.limits) {
        e.take(limit.high_ms);
        if (limit.read_ms)
            e.take(*limit.read_ms);
        BarRow row;
        row.name = limit.name;
        row.value = span_text(limit);
        row.from = drawable(limit.low_ms) ? limit.low_ms : 0.0;
        row.to = limit.high_ms;
        row.look = BarRow::Look::hollow;
        row.strong = limit.strong;
        plan.rows.push_back(std::move(row));
    }
    double const most = std::clamp(0.6 * width / (3.2 * size), 3.0, 9.0);
    plan.scale = nice_axis(0.0, e.high > 0.0 ? e.high * 1.1 : 1.0, static_cast<int>(most), false);
    plan.titles = t.x_titles;
    return plan;
}

/// The current: whole until it is cut at the limit, then nothing. It stands over the scale of the rows.
void draw_wave(TimeLimits const& t, BarRows const& rows, Picture& picture, Placement& placement, Box box)
{
    double const middle = (box.top + box.bottom) / 2.0, high = box.height() / 2.0 - 0.6;
    double const end = rows.at(t.arc_out_ms), left = rows.plot().left, right = rows.plot().right;
    double const cycles = t.arc_out_ms / t.cycle_ms;
    int const steps = std::clamp(static_cast<int>(cycles * 24.0), 24, 2400);
    std::vector<Point> wave;
    for (int i = 0; i <= steps; ++i) {
        double const share = static_cast<double>(i) / steps;
        wave.push_back(
            {left + (end - left) * share, middle - high * std::sin(2.0 * std::numbers::pi * cycles * share)});
    }
    picture.line({left, middle}, {right, middle}, Ink::faint, 0.25);
    for (int cycle = 1; cycle <= static_cast<int>(cycles + 1e-6) && cycle < 100; ++cycle) {
        double const x = left + (end - left) * cycle / cycles;
        picture.line({x, middle - 1.2}, {x, middle + 1.2}, Ink::muted, 0.3);
    }
    picture.polyline(std::move(wave), Ink::line, 0.5);
    picture.line({end, middle}, {right, middle}, Ink::line, 0.5);
    placement.take({left, box.top, std::max(left, end), box.bottom});
}

std::string spoken(TimeLimits const& t)
{
    std::string text = "Time limits";
    for (auto const& limit : t.limits) {
        text += fmt::format("; {} {}", limit.name, span_text(limit));
        if (limit.read_ms)
            text += fmt::format(", {} {:.4g} ms", t.read_label, *limit.read_ms);
    }
    return text + ".";
}

} // namespace

Picture time_limits(TimeLimits const& t, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(t);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    double const size = body_size(space);
    double const least = bar_rows_height(t.limits.size(), true, true, size);
    bool const cut = drawable(t.arc_out_ms) && t.arc_out_ms > 0.0;
    bool const wave = cut && drawable(t.cycle_ms) && t.cycle_ms > 0.0 && t.arc_out_ms / t.cycle_ms < 100.0;
    double const spare = space.height_mm - 1.2 * least;
    double const high = wave && spare > 9.0 ? std::min(spare, 0.24 * space.height_mm) : 0.0;
    BarPlan plan = bars_of(t, space.width_mm, size);
    if (cut)
        plan.lines.push_back({t.arc_out_ms, t.end_label, Ink::accent, Dash::dashed});
    Box const area{0.0, high, space.width_mm, space.height_mm};
    BarRows const rows(picture, placement, plan, area,
                       bar_rows_size(plan, area, size, body_size({0.0, 0.0}), measure));
    if (high > 0.0)
        draw_wave(t, rows, picture, placement, {0.0, 0.4, space.width_mm, high - 0.6});
    for (std::size_t i = 0; i < t.limits.size(); ++i)
        if (auto const read = t.limits[i].read_ms; read && drawable(*read)) {
            Box const bar = rows.bar(i);
            double const y = (bar.top + bar.bottom) / 2.0;
            picture.dot({rows.at(*read), y}, std::clamp(bar.height() / 3.0, 0.9, 1.6), Ink::accent);
        }
    return picture;
}

} // namespace isochore::drawing
