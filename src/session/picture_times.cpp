#include "drawing/phase_sum.h"
#include "drawing/time_limits.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::session {
namespace {

std::optional<double> milliseconds_read(PictureQuestion const& q, char const* step)
{
    auto const& typed = q.context.state.record(step).typed;
    if (typed.empty())
        return std::nullopt;
    auto const amount = parse_amount(typed, Dimension::time, step);
    return amount ? std::optional(amount->si * 1e3) : std::nullopt;
}

/// A window of the profile, with what the first operation read where it has been.
void add_window(PictureQuestion const& q, char const* low, char const* high, char const* step, std::string name,
                drawing::TimeLimits& t)
{
    auto const to = q.context.profile.amount(high);
    if (!to)
        return;
    auto const from = q.context.profile.amount(low);
    t.limits.push_back(
        {std::move(name), from ? from->si * 1e3 : 0.0, to->si * 1e3, milliseconds_read(q, step), false});
}

} // namespace

std::optional<drawing::Picture> limits_picture(PictureQuestion const& q)
{
    double const rated = q.figure("interrupting_time"), cycle = q.figure("cycle");
    if (!std::isfinite(rated) || !(rated > 0.0))
        return std::nullopt;
    drawing::TimeLimits t;
    double const upper = std::isfinite(q.figure("upper_limit")) ? q.figure("upper_limit") : rated;
    t.cycle_ms = std::isfinite(cycle) ? cycle * 1e3 : 0.0;
    t.arc_out_ms = upper * 1e3;
    t.end_label = q.words("arc out by {} ms", {fmt::format("{:.3g}", upper * 1e3)});
    if (cycle > 0.0)
        t.end_label = q.words("arc out by {} ms, {} cycles",
                              {fmt::format("{:.3g}", upper * 1e3), fmt::format("{:.3g}", upper / cycle)});
    t.limits.push_back({q.words("interrupting time"), 0.0, upper * 1e3, std::nullopt, true});
    add_window(q, "timing.open_min", "timing.open_max", "prove.open_time", q.words("opening time"), t);
    add_window(q, "timing.close_min", "timing.close_max", "prove.close_time", q.words("closing time"), t);
    if (double const spread = q.figure("opening_spread_limit"); std::isfinite(spread))
        t.limits.push_back({q.words("pole spread, opening"), 0.0, spread * 1e3, std::nullopt, false});
    if (double const spread = q.figure("closing_spread_limit"); std::isfinite(spread))
        t.limits.push_back({q.words("pole spread, closing"), 0.0, spread * 1e3, std::nullopt, false});
    q.say(t.x_titles);
    return drawing::time_limits(t, q.space, q.measure);
}

std::optional<drawing::Picture> phases_picture(PictureQuestion const& q)
{
    Json const explanations = q.fact("explanations");
    if (!explanations.is_array() || explanations.empty())
        return std::nullopt;
    drawing::PhaseSum sum;
    char const* names[] = {"phase_a", "phase_b", "phase_c"};
    for (std::size_t i = 0; i < 3; ++i)
        if (auto const a = q.given(names[i], Dimension::current))
            sum.phase_a[i] = a->si;
    if (auto const a = q.given("sum", Dimension::current))
        sum.sum_a = a->si;
    sum.u95_a = q.half_width("sum_read");
    for (auto const& e : explanations) {
        std::string const text = text_member(e, "text");
        sum.explanations.push_back({q.words(text), number_member(member(e, "expected_sum"), "value"),
                                    number_member(e, "probability")});
    }
    Json const direction = member(explanations[0], "direction"), angle = member(explanations[0], "angle_rad");
    for (std::size_t i = 0; i < 3; ++i) {
        if (direction.is_array() && direction.size() == 3 && direction[i].is_number())
            sum.direction[i] = direction[i].get<double>() < 0.0 ? -1 : 1;
        if (angle.is_array() && angle.size() == 3 && angle[i].is_number())
            sum.angle_deg[i] = angle[i].get<double>() * 180.0 / std::numbers::pi;
    }
    q.say({&sum.read_label});
    q.say(sum.x_titles);
    return drawing::phase_sum(sum, q.space, q.measure);
}

} // namespace isochore::session
