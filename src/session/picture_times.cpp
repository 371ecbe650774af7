#include "drawing/phase_sum.h"
#include "drawing/time_limits.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
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
void add_window(PictureQuestion const& q, char const* low, char const* high, char const* step,
                std::string name, drawing::TimeLimits& t)
{
    auto const to = q.context.profile.amount(high);
    if (!to)
        return;
    auto const from = q.context.profile.amount(low);
    t.limits.push_back(
        {std::move(name), from ? from->si * 1e3 : 0.0, to->si * 1e3, milliseconds_read(q, step), false});
}

/// A balanced load cannot tell which coil differs: what concerns one or the other is one row with three sums.
std::vector<drawing::SumExplanation> families_of(Json const& explanations, PictureQuestion const& q)
{
    std::vector<drawing::SumExplanation> families{{q.words("all three alike"), {}, 0.0},
                                                  {q.words("one coil reversed"), {}, 0.0},
                                                  {q.words("two coils on one phase"), {}, 0.0}};
    for (auto const& e : explanations) {
        std::string const text = text_member(e, "text");
        auto& family = families[text.starts_with("coil on") ? 1 : text.starts_with("two coils") ? 2 : 0];
        family.expected_a.push_back(number_member(member(e, "expected_sum"), "value"));
        family.probability += number_member(e, "probability");
    }
    std::stable_sort(families.begin(), families.end(),
                     [](auto const& a, auto const& b) { return a.probability > b.probability; });
    return families;
}

/// The arrows as the likeliest explanation has them where it is likelier than all others together; else each
/// coil that may be reversed is marked so.
void show_directions(Json const& explanations, drawing::PhaseSum& sum)
{
    constexpr double possible = 0.05;
    bool const clear = number_member(explanations[0], "probability") > 0.5;
    for (auto const& e : explanations) {
        Json const direction = member(e, "direction"), angle = member(e, "angle_rad");
        if (!direction.is_array() || direction.size() != 3 || !angle.is_array() || angle.size() != 3 ||
            (!clear && number_member(e, "probability") < possible))
            continue;
        for (std::size_t i = 0; i < 3; ++i) {
            bool const reversed = direction[i].is_number() && direction[i].get<double>() < 0.0;
            if (reversed)
                sum.direction[i] = clear ? -1 : 0;
            if (clear && angle[i].is_number())
                sum.angle_deg[i] = angle[i].get<double>() * 180.0 / std::numbers::pi;
        }
        if (clear)
            return; // the first is the likeliest
    }
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
        if (double const a = q.input(names[i], Dimension::current); std::isfinite(a))
            sum.phase_a[i] = a;
    if (double const a = q.input("sum", Dimension::current); std::isfinite(a))
        sum.sum_a = a;
    sum.u95_a = q.half_width("sum_read");
    sum.explanations = families_of(explanations, q);
    show_directions(explanations, sum);
    q.say({&sum.read_label});
    q.say(sum.x_titles);
    return drawing::phase_sum(sum, q.space, q.measure);
}

} // namespace isochore::session
