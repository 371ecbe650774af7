#include "electrical/wiring.h"
#include <fmt/format.h>

namespace isochore::electrical {
namespace {

constexpr char const* parallel = "parallel_with_coil";
constexpr char const* separate = "separate_output";
constexpr char const* lamp = "parallel_with_lamp";
constexpr char const* wetted = "wetted_52b";

std::string ma(double a)
{
    return fmt::format("{:.3g} mA", a * 1e3);
}
std::string v(double volt)
{
    return fmt::format("{:.3g} V", volt);
}

/// True when the input may lie across this coil; the reasons say why or why not.
bool judge_coil(WiringChoice& choice, std::size_t number, TripCoil const& coil,
                std::array<SupervisedState, 4> const& s, double pick_up_v)
{
    auto const say = [&](bool good, std::string text) {
        choice.reasons.push_back({parallel, good, fmt::format("trip coil {}: {}", number, text)});
        return good;
    };
    bool const off =
        say(s[0].input_v < pick_up_v, fmt::format("with the coil healthy the input sees {}, pick-up {}",
                                                  v(s[0].input_v), v(pick_up_v)));
    bool const seen =
        say(s[1].supervision_a < coil.threshold_a,
            fmt::format("with the coil open {} flows through supervision and input, alarm below {}",
                        ma(s[1].supervision_a), ma(coil.threshold_a)));
    return off && seen;
}

Result<bool> parallel_possible(WiringChoice& choice, WiringSurvey const& survey, std::string_view where)
{
    bool possible = true;
    if (static_cast<std::size_t>(survey.trip_inputs) < survey.coils.size()) {
        possible = false;
        choice.reasons.push_back(
            {parallel, false,
             fmt::format("{} trip coils and {} trip input: a trip by another coil would be missed",
                         survey.coils.size(), survey.trip_inputs)});
    }
    for (std::size_t i = 0; i < survey.coils.size(); ++i) {
        TripCoil const& coil = survey.coils[i];
        if (coil.kind == SupervisionKind::none) {
            choice.reasons.push_back(
                {parallel, true, fmt::format("trip coil {} has no supervision to disturb", i + 1)});
            continue;
        }
        auto const states = supervised_states({survey.dc_max_v, coil.supervision_ohm, coil.coil_ohm,
                                               survey.input_ohm, InputPosition::across_coil, coil.bypass_ohm},
                                              where);
        if (!states)
            return tl::unexpected(states.error());
        choice.states.push_back(*states);
        possible = judge_coil(choice, i + 1, coil, *states, survey.pick_up_v) && possible;
    }
    return possible;
}

void choose_trip(WiringChoice& choice, WiringSurvey const& survey, bool possible)
{
    if (possible) {
        choice.trip = TripWiring::parallel_with_coil;
        choice.reasons.push_back(
            {parallel, true, "the coil is energised by every trip path, so none is missed"});
        return;
    }
    if (!survey.spare_output)
        choice.reasons.push_back({separate, false, "there is no free trip contact to wet"});
    else if (!survey.output_follows_all)
        choice.reasons.push_back({separate, false,
                                  "the free contact does not operate for every trip path: trips by the "
                                  "others would be missed"});
    else {
        choice.trip = TripWiring::separate_output;
        choice.resistor_needed = true;
        choice.reasons.push_back({separate, true,
                                  "a free contact operates for every trip path; its long wetted lead needs "
                                  "the noise resistor"});
    }
}

void choose_position(WiringChoice& choice, WiringSurvey const& survey)
{
    double const through_input = survey.dc_min_v / survey.input_ohm;
    if (survey.lamp_ohm) {
        double const current = through_input + survey.dc_min_v / *survey.lamp_ohm;
        choice.position = PositionWiring::parallel_with_lamp;
        choice.position_current_a = current;
        choice.reasons.push_back({lamp, true,
                                  fmt::format("the lamp already draws {} through 52b and keeps it clean",
                                              ma(survey.dc_min_v / *survey.lamp_ohm))});
    } else if (survey.spare_52b) {
        choice.position = PositionWiring::wetted_52b;
        choice.position_current_a = through_input;
        choice.reasons.push_back(
            {wetted, true, fmt::format("a free 52b contact carries the input's {}", ma(through_input))});
    } else {
        choice.reasons.push_back({wetted, false, "there is neither a green lamp nor a free 52b contact"});
        return;
    }
    choice.position_wants_wetting = survey.wetting_a && choice.position_current_a < *survey.wetting_a;
    if (choice.position_wants_wetting)
        choice.reasons.push_back(
            {std::string(position_wiring_name(choice.position)), false,
             fmt::format("{} is less than the {} that keeps the contact clean: add a resistor of at "
                         "most {:.3g} kohm across the input",
                         ma(choice.position_current_a), ma(*survey.wetting_a),
                         survey.dc_min_v / (*survey.wetting_a - choice.position_current_a) / 1e3)});
}

} // namespace

std::string_view trip_wiring_name(TripWiring w)
{
    return w == TripWiring::parallel_with_coil ? parallel
           : w == TripWiring::separate_output  ? separate
                                               : "none";
}

std::string_view position_wiring_name(PositionWiring w)
{
    return w == PositionWiring::wetted_52b ? wetted : w == PositionWiring::parallel_with_lamp ? lamp : "none";
}

Result<WiringChoice> choose_wiring(WiringSurvey const& survey, std::string_view where)
{
    if (survey.coils.empty())
        return fail(Error::Code::out_of_range, std::string(where) + ".coils",
                    "a breaker has at least one trip coil: take it from the drawing");
    WiringChoice choice;
    auto const possible = parallel_possible(choice, survey, where);
    if (!possible)
        return tl::unexpected(possible.error());
    choose_trip(choice, survey, *possible);
    choose_position(choice, survey);
    return choice;
}

} // namespace isochore::electrical
