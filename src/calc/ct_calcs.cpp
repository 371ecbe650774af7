#include "calc/ct_inputs.h"
#include "calc/ct_load_check.h"
#include "calc/ct_phases.h"
#include "calc/registry.h"
#include "calc/show_electric.h"
#include "electrical/ct_taps.h"
#include <fmt/format.h>
#include <numbers>

namespace isochore::calc {
namespace {

using electrical::CurrentPath;
using electrical::Tap;

constexpr char const* never_open = "Never open a CT secondary that carries current: short it first, or use a "
                                   "clip-on coil, which opens nothing.";

void add_expected(Inputs& in, Answer& answer, electrical::PathRatio const& ratio, int turns, bool delta)
{
    double const root = delta ? std::numbers::sqrt3 : 1.0;
    auto const predict = [&](char const* input, char const* secondary, char const* pick_up) {
        auto const primary = in.optional_quantity(input, Dimension::current);
        if (!primary)
            return;
        if (*primary < 0.0)
            return in.refuse(Error::Code::out_of_range, input, "a current has no sign here: enter its size");
        double const lead = *primary / ratio.ratio * root;
        answer.expected.push_back({secondary, lead, "A", {}, {}, {}});
        answer.expected.push_back({pick_up, lead * turns, "A", {}, {}, {}});
        answer.working.push_back(
            {"I2 = I1 / ratio (times sqrt 3 in a delta lead); the coil sees N times that",
             fmt::format("{} / {:.6g}{} = {}; coil {}", show_scaled(*primary, Dimension::current, 4),
                         ratio.ratio, delta ? " x 1.7321" : "", show_scaled(lead, Dimension::current, 4),
                         show_scaled(lead * turns, Dimension::current, 4)),
             "Ampere's law on the coil"});
    };
    predict("load_current", "secondary_at_load", "pick_up_at_load");
    predict("fault_current", "secondary_at_fault", "pick_up_at_fault");
}

Result<Answer> ratio(Inputs& in)
{
    CurrentPath path;
    path.main = read_ratio(in, "primary", "secondary");
    if (in.has("aux_primary") || in.has("aux_secondary"))
        path.auxiliary = read_ratio(in, "aux_primary", "aux_secondary");
    path.turns = read_turns(in);
    path.delta = read_delta(in);
    if (in.error())
        return tl::unexpected(*in.error());
    if (auto const good = electrical::check_ratio(path.main, in.place("secondary")); !good)
        return tl::unexpected(good.error());
    if (path.auxiliary)
        if (auto const good = electrical::check_ratio(*path.auxiliary, in.place("aux_secondary"), true);
            !good)
            return tl::unexpected(good.error());
    auto const got = electrical::path_ratio(path, "inputs");
    if (!got)
        return tl::unexpected(got.error());

    Answer answer;
    answer.add("ratio", got->ratio, "1");
    answer.add("scale", got->scale, "1");
    std::string numbers = fmt::format("{:g} / {:g}", path.main.primary_a, path.main.secondary_a);
    if (path.auxiliary)
        numbers += fmt::format(" x {:g} / {:g}", path.auxiliary->primary_a, path.auxiliary->secondary_a);
    answer.working.push_back({"ratio to 1 = (I1/I2) x (aux I1/I2)",
                              fmt::format("{} = {:.8g}", numbers, got->ratio),
                              "rated transformation ratio, IEEE C57.13"});
    answer.working.push_back({"scale = ratio / turns (/ sqrt 3 on a delta lead)",
                              fmt::format("{:.8g} / {}{} = {:.8g}", got->ratio, path.turns,
                                          path.delta ? " / 1.7320508" : "", got->scale),
                              "each pass of the conductor adds its current"});
    add_expected(in, answer, *got, path.turns, path.delta);
    answer.notes.push_back("scale is the primary amperes for each ampere the coil reads.");
    if (path.auxiliary)
        answer.notes.push_back("The coil is taken to sit on the secondary of the auxiliary CT.");
    if (path.delta)
        answer.notes.push_back(
            "A delta lead carries the difference of two phases: the figures hold for a balanced "
            "load only, and the current is not that of one pole, so it must not be used for "
            "interrupting duty per pole. Put the coil inside the delta where it can be reached.");
    answer.notes.push_back(never_open);
    return answer;
}

Json tap_fact(std::vector<Tap> const& taps, Tap const& tap)
{
    Json twins = Json::array();
    for (int i : tap.twins)
        twins.push_back(taps[static_cast<std::size_t>(i)].terminals());
    return Json{
        {"terminals", tap.terminals()}, {"text", fmt::format("{:g}:{:g}", tap.primary_a, tap.secondary_a)},
        {"primary", tap.primary_a},     {"secondary", tap.secondary_a},
        {"ratio", tap.ratio()},         {"turns", tap.turns},
        {"listed", tap.listed},         {"same_ratio_as", twins}};
}

Result<Answer> taps(Inputs& in)
{
    auto const table = read_taps(in);
    if (!table)
        return tl::unexpected(table.error());
    Answer answer;
    Json rows = Json::array();
    std::string equal, pairs;
    for (Tap const& tap : *table) {
        rows.push_back(tap_fact(*table, tap));
        for (int i : tap.twins) {
            Tap const& twin = (*table)[static_cast<std::size_t>(i)];
            if (&twin < &tap)
                continue;
            equal += fmt::format("{}{} = {}", equal.empty() ? "" : ", ", tap.terminals(), twin.terminals());
            pairs += fmt::format("{}{} and {} ({:g}:{:g})", pairs.empty() ? "" : "; ", tap.terminals(),
                                 twin.terminals(), tap.primary_a, tap.secondary_a);
        }
    }
    answer.facts["taps"] = std::move(rows);
    answer.facts["equal_ratio_pairs"] = equal.empty() ? "none" : equal;
    if (!pairs.empty())
        answer.notes.push_back("Equal ratio does not prove equal taps: " + pairs +
                               ". Record the pair of terminals, not only the ratio.");
    answer.working.push_back({"turns between two terminals = sum of the segments between them",
                              fmt::format("{} pairs", table->size()),
                              "IEEE C57.13, table 8 (seen in a reproduction)"});
    answer.notes.push_back(never_open);
    return answer;
}

} // namespace

std::span<Calculation const> ct_calculations()
{
    static constexpr Calculation table[] = {
        {"ct.ratio", "current transformer ratio referred to 1, with auxiliary CT, turns and delta", ratio},
        {"ct.taps", "terminal pairs of a multi-ratio CT with their ratios", taps},
        {"ct.load_check", "ranks the taps and turns that would explain a reading", ct_load_check},
        {"ct.phases", "do the three coils sit alike, from their sum", ct_phases},
    };
    return table;
}

} // namespace isochore::calc
