#include "calc/counts.h"
#include "calc/input_kinds.h"
#include "calc/show_electric.h"
#include "electrical/wiring.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;

SupervisionKind read_kind(Inputs& in)
{
    std::string const kind = in.one_of("supervision", {"none", "lamp", "relay", "relay_input"});
    return kind == "lamp"          ? SupervisionKind::lamp
           : kind == "relay"       ? SupervisionKind::relay
           : kind == "relay_input" ? SupervisionKind::relay_input
                                   : SupervisionKind::none;
}

TripCoil read_coil(Inputs& in)
{
    TripCoil coil;
    coil.kind = read_kind(in);
    coil.coil_ohm = in.quantity("coil_resistance", Dimension::resistance);
    if (coil.kind != SupervisionKind::none) {
        coil.supervision_ohm = in.quantity("supervision_resistance", Dimension::resistance);
        coil.threshold_a = in.quantity("supervision_threshold", Dimension::current);
        coil.bypass_ohm = in.optional_quantity("bypass_resistance", Dimension::resistance);
    }
    in.refuse_unread();
    return coil;
}

/// The short form of the survey: one or two coils, all alike, supervised or not.
void read_alike_coils(Inputs& in, WiringSurvey& s)
{
    std::string const circuit = in.one_of("trip_circuit", {"one", "one_supervised", "two", "two_supervised"});
    TripCoil coil;
    coil.coil_ohm = in.quantity("coil_resistance", Dimension::resistance);
    if (circuit.ends_with("supervised")) {
        coil.kind = SupervisionKind::relay;
        coil.supervision_ohm = in.quantity("supervision_resistance", Dimension::resistance);
        coil.threshold_a = in.quantity("supervision_threshold", Dimension::current);
    }
    s.coils.assign(circuit.starts_with("two") ? 2u : 1u, coil);
}

WiringSurvey read_survey(Inputs& in)
{
    WiringSurvey s;
    s.dc_min_v = in.quantity("dc_min", Dimension::voltage);
    s.dc_max_v = in.quantity("dc_max", Dimension::voltage);
    s.input_ohm = in.quantity("input_resistance", Dimension::resistance);
    s.pick_up_v = in.quantity("pick_up", Dimension::voltage);
    s.drop_out_v = in.quantity("drop_out", Dimension::voltage);
    s.trip_inputs = read_count_or(in, "trip_inputs", 1, 8, 1);
    if (in.has("trip_circuit"))
        read_alike_coils(in, s);
    for (Inputs& one : in.list("coils")) {
        s.coils.push_back(read_coil(one));
        in.absorb(one);
    }
    std::string const output = in.one_of("trip_output", {"none", "some", "every"}, "");
    s.spare_output = output.empty() ? in.flag_or("spare_trip_output", false) : output != "none";
    s.output_follows_all =
        output.empty() ? in.flag_or("output_follows_every_path", false) : output == "every";
    std::string const position = in.one_of("position", {"lamp", "free_52b", "neither"}, "");
    s.spare_52b = position.empty() ? in.flag_or("spare_52b", false) : position == "free_52b";
    s.lamp_ohm = in.optional_quantity("lamp_resistance", Dimension::resistance);
    if (position == "lamp" && !s.lamp_ohm)
        in.refuse(Code::missing_input, "lamp_resistance",
                  "is required where the position comes from the lamp: its voltage over its current");
    s.wetting_a = in.optional_quantity("wetting_current", Dimension::current);
    for (auto const& [name, value] :
         {std::pair{"dc_min", s.dc_min_v}, std::pair{"dc_max", s.dc_max_v},
          std::pair{"input_resistance", s.input_ohm}, std::pair{"pick_up", s.pick_up_v},
          std::pair{"drop_out", s.drop_out_v}, std::pair{"lamp_resistance", s.lamp_ohm.value_or(1.0)},
          std::pair{"wetting_current", s.wetting_a.value_or(1.0)}})
        if (!(value > 0.0))
            in.refuse(Code::out_of_range, name, "must be above zero");
    if (s.dc_min_v > s.dc_max_v)
        in.refuse(Code::out_of_range, "dc_min",
                  "is above dc_max: the two look swapped, enter them the other way round");
    if (s.drop_out_v >= s.pick_up_v)
        in.refuse(Code::out_of_range, "drop_out",
                  "is not below pick_up: the two look swapped, enter them the other way round");
    if (s.pick_up_v > s.dc_min_v)
        in.refuse(Code::out_of_range, "pick_up",
                  "is above the lowest supply: the input would not see a trip there; choose an input for a "
                  "lower voltage");
    return s;
}

Json reasons_fact(WiringChoice const& choice)
{
    Json list = Json::array();
    for (Reason const& r : choice.reasons)
        list.push_back({{"connection", r.about}, {"in_favour", r.in_favour}, {"text", r.text}});
    return list;
}

Json coil_states_fact(WiringChoice const& choice)
{
    Json list = Json::array();
    for (auto const& states : choice.states) {
        Json rows = Json::array();
        for (SupervisedState const& s : states)
            rows.push_back({{"coil", s.coil_healthy ? "healthy" : "open"},
                            {"breaker", s.breaker_closed ? "closed" : "open"},
                            {"input_voltage", figure_fact(s.input_v, "V")},
                            {"supervision_current", figure_fact(s.supervision_a, "A")}});
        list.push_back(std::move(rows));
    }
    return list;
}

void check_choice(Answer& answer, WiringChoice const& choice)
{
    std::string trip_text = "trip: ";
    switch (choice.trip) {
    case TripWiring::parallel_with_coil:
        trip_text += "in parallel with the trip coil";
        break;
    case TripWiring::separate_output:
        trip_text += "from a separate wetted output that follows every trip path";
        break;
    case TripWiring::none:
        trip_text += "no connection is safe with what there is";
        break;
    }
    bool const found = choice.trip != TripWiring::none;
    answer.checks.push_back(
        {"trip_wiring", found ? Verdict::pass : Verdict::fail, trip_text,
         found ? ""
               : "Ask for a trip contact that operates for every trip path, or an input of higher "
                 "resistance; the protection engineer decides.",
         "simple"});
    bool const position = choice.position != PositionWiring::none;
    answer.checks.push_back(
        {"position_wiring",
         !position                       ? Verdict::fail
         : choice.position_wants_wetting ? Verdict::undecided
                                         : Verdict::pass,
         position
             ? fmt::format("position: {}, {} through 52b at the lowest supply",
                           choice.position == PositionWiring::wetted_52b ? "a free 52b contact, wetted"
                                                                         : "in parallel with the green lamp",
                           show_scaled(choice.position_current_a, Dimension::current))
             : std::string("position: neither a lamp nor a free 52b contact"),
         !position                       ? "Find a free 52b on the auxiliary switch, or add one."
         : choice.position_wants_wetting ? choice.reasons.back().text + "."
                                         : "",
         "simple"});
}

} // namespace

Result<Answer> wiring_calc(Inputs& in)
{
    WiringSurvey const survey = read_survey(in);
    if (in.error())
        return tl::unexpected(*in.error());
    auto const choice = choose_wiring(survey, "inputs");
    if (!choice)
        return tl::unexpected(choice.error());
    Answer answer;
    answer.facts["trip_wiring"] = trip_wiring_name(choice->trip);
    answer.facts["position_wiring"] = position_wiring_name(choice->position);
    answer.facts["resistor_needed"] = choice->resistor_needed;
    answer.facts["reasons"] = reasons_fact(*choice);
    answer.facts["coil_states"] = coil_states_fact(*choice);
    answer.add("input_current", survey.dc_max_v / survey.input_ohm, "A");
    answer.add("position_current", choice->position_current_a, "A");
    check_choice(answer, *choice);
    answer.working.push_back(
        {"I = U / (Rs + Rc || Rin) healthy, U / (Rs + Rin) open; Uin = I x the rest",
         fmt::format("{} supervised coil(s) at {:g} V", choice->states.size(), survey.dc_max_v),
         "Ohm's law"});
    answer.notes.push_back(
        "The input lies across the coil, never in series with it. Every new branch gets its own fuse or "
        "isolating terminal.");
    if (survey.coils.size() > 1 && choice->trip == TripWiring::separate_output)
        answer.notes.push_back("Prove the output by tripping each coil on its own.");
    return answer;
}

} // namespace isochore::calc
