#include "calc/usual.h"
#include "drawing/thread_plane.h"
#include "session/display.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

double millimetres(Json const& candidate, char const* name)
{
    return number_member(member(candidate, name), "value") * 1e3;
}

std::string percent(double share)
{
    if (share < 0.001)
        return "< 0.1 %";
    if (share > 0.999)
        return "> 99.9 %";
    return fmt::format("{:.{}f} %", share * 100.0, share < 0.0995 ? 1 : 0);
}

/// Threads of one size and pitch are one spot ("G 1/2, Rp 1/2"): no gauge tells them apart.
struct Group {
    std::string names;
    double diameter_mm, half_range_mm, pitch_mm, probability;
};

std::vector<Group> groups_of(Json const& candidates)
{
    std::vector<Group> groups;
    for (Json const& c : candidates) {
        double const d = millimetres(c, "diameter"), range = millimetres(c, "diameter_half_range");
        double const pitch = millimetres(c, "pitch"), probability = number_member(c, "probability");
        auto const same = std::find_if(groups.begin(), groups.end(), [&](Group const& g) {
            return std::abs(g.diameter_mm - d) < 1e-3 && std::abs(g.pitch_mm - pitch) < 1e-5 &&
                   std::abs(g.half_range_mm - range) < 1e-3;
        });
        if (same == groups.end()) {
            groups.push_back({text_member(c, "thread"), d, range, pitch, probability});
        } else {
            same->names += ", " + text_member(c, "thread");
            same->probability += probability;
        }
    }
    return groups;
}

/// Those that are taken for the measured one in practice, and any that is left in play by the figures.
bool may_be_taken_for(Group const& g, drawing::ThreadPlane const& measured)
{
    if (g.probability >= 0.001)
        return true;
    double const alike_mm = calc::usual_si("fitting.chain", "alike_major", Dimension::length) * 1e3;
    double const alike_pitch = calc::usual_si("fitting.chain", "alike_pitch", Dimension::ratio);
    double const off_mm = std::abs(g.diameter_mm - measured.diameter_mm) - g.half_range_mm;
    double const pitches = measured.pitch_mm ? g.pitch_mm / *measured.pitch_mm : 1.0;
    return off_mm <= alike_mm && pitches <= alike_pitch && pitches >= 1.0 / alike_pitch;
}

} // namespace

std::optional<drawing::Picture> thread_picture(PictureQuestion const& q)
{
    Json const candidates = q.fact("candidates");
    double const diameter = q.input("diameter", Dimension::length);
    if (!candidates.is_array() || candidates.empty() || !std::isfinite(diameter))
        return std::nullopt;
    drawing::ThreadPlane plane;
    constexpr double k = 2.0; // 95 %
    plane.diameter_mm = diameter * 1e3;
    plane.diameter_u95_mm = k * q.input_or_usual("u_diameter", Dimension::length) * 1e3;
    if (double const pitch = q.input("pitch", Dimension::length); std::isfinite(pitch))
        plane.pitch_mm = pitch * 1e3;
    plane.pitch_u95_mm = k * q.input_or_usual("u_pitch", Dimension::length) * 1e3;
    auto const groups = groups_of(candidates);
    for (auto const& g : groups)
        if (&g == &groups.front() || may_be_taken_for(g, plane))
            plane.spots.push_back(
                {g.names + "  " + percent(g.probability), g.diameter_mm, g.half_range_mm, g.pitch_mm});
    plane.result = groups.front().names + ": " + percent(groups.front().probability);
    for (auto const& check : q.checks({"thread"})) {
        plane.verdict = check.mark;
        if (check.mark == drawing::Mark::fail)
            plane.result = check.text; // none of them fits
    }
    if (Json const next = q.fact("next_measurement"); next.is_object()) {
        // As the calculation says it, so that it is turned by the same pattern.
        std::string const text =
            fmt::format("Next: {}: {} is {}, {} is {}.", text_member(next, "measure"),
                        text_member(candidates.front(), "thread"), text_member(next, "if_first"),
                        text_member(next, "against"), text_member(next, "if_second"));
        plane.next = in_print(q.words(text));
    }
    q.say({&plane.measured_label});
    q.say(plane.x_titles);
    q.say(plane.y_titles);
    return drawing::thread_plane(plane, q.space, q.measure);
}

} // namespace isochore::session
