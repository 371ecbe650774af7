#include "calc/show_electric.h"
#include "drawing/ct_path.h"
#include "quantity/amount.h"
#include "session/display.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::session {
namespace {

std::string amperes(double a)
{
    return calc::show_scaled(a, Dimension::current);
}

/// The tap table, of this answer or as recorded.
Json taps_of(PictureQuestion const& q)
{
    if (Json taps = q.fact("taps"); taps.is_array())
        return taps;
    return member(member(q.context.state.record("currents.taps").result, "results"), "taps");
}

/// The winding of a CT with taps, the pair in use marked.
drawing::CtTaps tapped_winding(PictureQuestion const& q, Json const& taps)
{
    drawing::CtTaps winding;
    std::string const chosen = q.context.state.record("currents.terminals").answer;
    // A segment is a pair of neighbouring terminals: X1-X2, X2-X3, …
    for (int i = 1; i < 9; ++i) {
        std::string const pair = fmt::format("X{}-X{}", i, i + 1);
        auto const it = std::find_if(taps.begin(), taps.end(),
                                     [&](Json const& t) { return text_member(t, "terminals") == pair; });
        if (it == taps.end())
            break;
        winding.segment_turns.push_back(static_cast<int>(number_member(*it, "turns")));
    }
    for (auto const& t : taps)
        if (text_member(t, "terminals") == chosen && chosen.size() == 5) {
            winding.from = chosen[1] - '0';
            winding.to = chosen[4] - '0';
            winding.used_label =
                q.words("{}, {} turns", {text_member(t, "text"),
                                         fmt::format("{}", static_cast<int>(number_member(t, "turns")))});
            if (auto const same = t.find("same_ratio_as"); same != t.end() && !same->empty())
                winding.note =
                    q.words("same ratio as {}: the pair decides", {same->front().get<std::string>()});
        }
    q.say({&winding.turns});
    return winding;
}

/// A CT of one ratio: its whole winding, whose turns nobody has told. Names of IEC 61869-2.
drawing::CtTaps whole_winding(std::string const& ratio)
{
    drawing::CtTaps winding;
    winding.segment_turns = {1};
    winding.segment_labels = {""};
    winding.used_label = ratio;
    winding.names = {"S1", "S2"};
    winding.primary = "P1";
    winding.turns.clear();
    winding.from = 1;
    winding.to = 2;
    return winding;
}

std::optional<drawing::CtTaps> winding_of(PictureQuestion const& q)
{
    bool const single = q.context.state.record("currents.kind").answer == "single";
    if (Json const taps = taps_of(q); !single && taps.is_array() && !taps.empty())
        return tapped_winding(q, taps);
    double const primary = q.input("primary", Dimension::current);
    double const secondary = q.input("secondary", Dimension::current);
    std::string ratio = q.context.state.record("currents.single_ratio").typed;
    if (std::isfinite(primary) && std::isfinite(secondary))
        ratio = fmt::format("{:g}:{:g}", primary, secondary);
    return ratio.empty() ? std::nullopt : std::optional(whole_winding(ratio));
}

} // namespace

std::optional<drawing::Picture> taps_picture(PictureQuestion const& q)
{
    auto const winding = winding_of(q);
    if (!winding || winding->segment_turns.empty())
        return std::nullopt;
    return drawing::ct_taps(*winding, q.space, q.measure);
}

std::optional<drawing::Picture> ct_path_picture(PictureQuestion const& q)
{
    auto winding = winding_of(q);
    double const primary = q.input("primary", Dimension::current);
    double const ratio = q.figure("ratio"), scale = q.figure("scale");
    if (!winding || winding->segment_turns.empty())
        return std::nullopt;
    if (!(ratio > 0.0) || !(scale > 0.0) || !(primary > 0.0))
        return drawing::ct_taps(*winding, q.space, q.measure);
    drawing::CtPath path;
    using Kind = drawing::CtStage::Kind;
    double const secondary = q.input("secondary", Dimension::current);
    double const aux_in = q.input("aux_primary", Dimension::current);
    double const aux_out = q.input("aux_secondary", Dimension::current);
    std::string const connection = text_member(q.known_inputs(), "connection");
    bool const delta = connection.starts_with("delta");
    // The rated current, stage by stage: a person can hold each against a plate or a meter.
    double current = secondary;
    path.primary = show_short(primary, 6) + " A"; // as on its plate
    path.terminals = winding->names.empty() ? q.context.state.record("currents.terminals").answer : "S1-S2";
    path.secondary = amperes(current);
    if (delta) {
        current *= std::numbers::sqrt3;
        path.stages.push_back({Kind::delta, q.words("delta lead"), "× √3", amperes(current)});
    }
    if (aux_in > 0.0 && aux_out > 0.0) {
        current *= aux_out / aux_in;
        path.stages.push_back({Kind::auxiliary, q.words("auxiliary CT"),
                               fmt::format("{:g}:{:g}", aux_in, aux_out), amperes(current)});
    }
    double const turns = q.input("turns", Dimension::count);
    int const passes = std::isfinite(turns) && turns >= 1.0 && turns < 1000.0 ? static_cast<int>(turns) : 1;
    path.stages.push_back({Kind::coil, q.words("coil"),
                           passes == 1 ? std::string() : fmt::format("× {}", passes),
                           amperes(primary / scale), passes});
    path.main = std::move(*winding);
    path.foot.push_back(drawing::conclusion(
        q.words("{} to 1; {} A for 1 A at the coil", {show_short(ratio, 6), show_short(scale, 6)}),
        drawing::Mark::none));
    if (delta)
        path.foot.push_back({q.words("A delta lead: for balanced load only")});
    return drawing::ct_path(path, q.space, q.measure);
}

} // namespace isochore::session
