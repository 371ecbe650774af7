#include "calc/input_kinds.h"
#include "calc/show_electric.h"
#include "calc/supervision_spread.h"
#include "calc/uncertain.h"
#include "electrical/supervision.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;

struct Thresholds {
    double pick_up_v = 0.0;
    double supervision_a = 0.0;
    std::optional<double> coil_idle_v; ///< voltage below which the coil surely stays idle
};

std::string volt(double v)
{
    return show_scaled(v, Dimension::voltage);
}
std::string amp(double a)
{
    return show_scaled(a, Dimension::current);
}

char const* supervision_word(SupervisedState const& s, Thresholds const& t)
{
    return s.supervision_a >= t.supervision_a ? "healthy" : "alarm";
}

Json state_fact(SupervisedState const& s, Thresholds const& t)
{
    return Json{{"coil", s.coil_healthy ? "healthy" : "open"},
                {"breaker", s.breaker_closed ? "closed" : "open"},
                {"input_voltage", figure_fact(s.input_v, "V")},
                {"supervision_current", figure_fact(s.supervision_a, "A")},
                {"coil_voltage", figure_fact(s.coil_v, "V")},
                {"input_on", s.input_v >= t.pick_up_v},
                {"supervision", supervision_word(s, t)}};
}

std::string state_words(SupervisedState const& s)
{
    return fmt::format("breaker {}, coil {}", s.breaker_closed ? "closed" : "open",
                       s.coil_healthy ? "healthy" : "open");
}

/// Pass when the whole 95 % interval lies below the limit, fail when none of it does.
Verdict below(uncertainty::Budget const& b, double limit)
{
    return b.value + b.expanded() < limit    ? Verdict::pass
           : b.value - b.expanded() >= limit ? Verdict::fail
                                             : Verdict::undecided;
}

Verdict at_least(uncertainty::Budget const& b, double limit)
{
    return b.value - b.expanded() >= limit  ? Verdict::pass
           : b.value + b.expanded() < limit ? Verdict::fail
                                            : Verdict::undecided;
}

void add_check(Answer& answer, char const* name, Verdict v, std::string text, char const* remedy)
{
    std::string const undecided =
        "The limit lies inside what is not known: measure the resistances, or the current "
        "itself with the coil lead lifted by the protection engineer.";
    answer.checks.push_back({name, v, std::move(text),
                             v == Verdict::pass   ? ""
                             : v == Verdict::fail ? remedy
                                                  : undecided,
                             "guarded"});
}

void check_states(Answer& answer, SupervisionSpread const& s, SupervisedState const& healthy,
                  Thresholds const& t)
{
    add_check(answer, "input_stays_off", below(s.input_healthy, t.pick_up_v),
              fmt::format("coil healthy: {} across the input, pick-up {}", volt(s.input_healthy.value),
                          volt(t.pick_up_v)),
              "Feed the input from a separate wetted trip output that operates for every trip path.");
    add_check(answer, "supervision_reads_healthy", at_least(s.current_healthy, t.supervision_a),
              fmt::format("coil healthy: supervision {}, threshold {}", amp(s.current_healthy.value),
                          amp(t.supervision_a)),
              "The supervision would alarm on a healthy coil: check its resistance and threshold.");
    add_check(answer, "open_coil_seen", below(s.current_open, t.supervision_a),
              fmt::format("coil open: {} still flows through supervision and input, threshold {}",
                          amp(s.current_open.value), amp(t.supervision_a)),
              "Do not connect in parallel: an open coil would go unseen. Feed the input from a separate "
              "wetted trip "
              "output that operates for every trip path.");
    if (t.coil_idle_v)
        add_check(answer, "coil_stays_idle", healthy.coil_v < *t.coil_idle_v ? Verdict::pass : Verdict::fail,
                  fmt::format("coil healthy: {} across the coil, it must stay below {}", volt(healthy.coil_v),
                              volt(*t.coil_idle_v)),
                  "Supervision and input together bring the coil too near to tripping: reduce the "
                  "supervision current.");
}

/// At the lowest supply the supervision must still read a healthy coil as healthy.
void check_lowest_supply(Answer& answer, SupervisedCircuit circuit, double dc_min_v, Thresholds const& t)
{
    circuit.dc_v = dc_min_v;
    auto const states = supervised_states(circuit, "inputs.dc_min");
    if (!states)
        return;
    double const current = (*states)[0].supervision_a;
    add_check(answer, "supervision_at_lowest_supply",
              current >= t.supervision_a ? Verdict::pass : Verdict::fail,
              fmt::format("at {} the supervision carries {}, threshold {}", volt(dc_min_v), amp(current),
                          amp(t.supervision_a)),
              "The supervision would alarm on a healthy coil when the battery is low: tell the protection "
              "engineer.");
}

std::string advice_of(std::array<SupervisedState, 4> const& s, Thresholds const& t, double input_ohm,
                      double dc_v, double supervision_ohm)
{
    bool const masked = s[1].supervision_a >= t.supervision_a;
    if (masked)
        return fmt::format(
            "Not in parallel: with the coil open {} flows through the input, and the supervision "
            "needs less than {} to alarm. Use a separate wetted trip output that operates for every "
            "trip path, with a noise resistor. An input above {} would also do.",
            amp(s[1].supervision_a), amp(t.supervision_a),
            show_scaled(dc_v / t.supervision_a - supervision_ohm, Dimension::resistance));
    if (s[0].input_v >= t.pick_up_v)
        return "Not in parallel: the supervision alone turns the input on. Use a separate wetted trip output "
               "that "
               "operates for every trip path, with a noise resistor.";
    if (s[1].input_v >= t.pick_up_v)
        return fmt::format(
            "In parallel with the trip coil is possible. With the coil open the input reads on ({} "
            "of {}) while the supervision alarms: treat that reading as the alarm it is, not as a "
            "trip. Input current {} at full supply.",
            volt(s[1].input_v), volt(t.pick_up_v), amp(dc_v / input_ohm));
    return fmt::format(
        "In parallel with the trip coil is possible: the supervision keeps its view of the coil and "
        "the input stays off. Input current {} at full supply.",
        amp(dc_v / input_ohm));
}

void note_open_breaker(Answer& answer, std::array<SupervisedState, 4> const& states, Thresholds const& t)
{
    for (std::size_t i : {2u, 3u})
        if (states[i].input_v >= t.pick_up_v)
            answer.notes.push_back(
                fmt::format("With {} the input reads on ({}): a steady on while the breaker is "
                            "open is no trip. Connect across the coil itself, behind 52a.",
                            state_words(states[i]), volt(states[i].input_v)));
    if (states[2].supervision_a < t.supervision_a)
        answer.notes.push_back(
            "With the breaker open 52a is open and the supervision sees no healthy path: it "
            "supervises the closed breaker only, or needs a bypass (give bypass_resistance).");
    else if (states[3].supervision_a >= t.supervision_a)
        answer.notes.push_back("With the breaker open an open coil is not seen by the supervision.");
}

} // namespace

Result<Answer> supervision_calc(Inputs& in)
{
    SupervisedCircuit c;
    Thresholds t;
    c.dc_v = in.quantity("dc_max", Dimension::voltage);
    c.supervision_ohm = in.quantity("supervision_resistance", Dimension::resistance);
    t.supervision_a = in.quantity("supervision_threshold", Dimension::current);
    c.coil_ohm = in.quantity("coil_resistance", Dimension::resistance);
    c.input_ohm = in.quantity("input_resistance", Dimension::resistance);
    t.pick_up_v = in.quantity("pick_up", Dimension::voltage);
    c.bypass_ohm = in.optional_quantity("bypass_resistance", Dimension::resistance);
    t.coil_idle_v = in.optional_quantity("coil_idle_voltage", Dimension::voltage);
    std::string const position = in.one_of("position", {"coil", "contact_and_coil"}, "coil");
    c.position = position == "coil" ? InputPosition::across_coil : InputPosition::across_contact_and_coil;
    auto const dc_min = in.optional_quantity("dc_min", Dimension::voltage);
    if (!in.error() && dc_min && (!(*dc_min > 0.0) || *dc_min > c.dc_v))
        in.refuse(Code::out_of_range, "dc_min",
                  "must be above zero and at most dc_max: the two look swapped, enter them the other way "
                  "round");
    if (!in.error() && !(t.pick_up_v > 0.0))
        in.refuse(Code::out_of_range, "pick_up", "must be above zero");
    if (!in.error() && !(t.supervision_a > 0.0))
        in.refuse(Code::out_of_range, "supervision_threshold", "must be above zero");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const states = supervised_states(c, "inputs");
    if (!states)
        return tl::unexpected(states.error());
    auto const spread = supervision_spread(in, c);
    if (!spread)
        return tl::unexpected(spread.error());

    Answer answer;
    answer.results = {figure("input_voltage_healthy", "V", spread->input_healthy),
                      figure("supervision_current_healthy", "A", spread->current_healthy),
                      figure("input_voltage_open", "V", spread->input_open),
                      figure("supervision_current_open", "A", spread->current_open)};
    answer.expected = {answer.results[0], answer.results[1]};
    if (spread->current_open.u > 0.0)
        show_budget(answer, spread->current_open);
    answer.facts["masked"] = (*states)[1].supervision_a >= t.supervision_a;
    answer.facts["advice"] = advice_of(*states, t, c.input_ohm, c.dc_v, c.supervision_ohm);
    answer.facts["states"] = Json::array();
    for (SupervisedState const& s : *states)
        answer.facts["states"].push_back(state_fact(s, t));
    check_states(answer, *spread, (*states)[0], t);
    if (dc_min)
        check_lowest_supply(answer, c, *dc_min, t);
    note_open_breaker(answer, *states, t);
    answer.working.push_back({"I = U / (Rs + Rc || Rin), Uin = I (Rc || Rin)",
                              fmt::format("{:g} V / ({} + {} || {}) = {}; input {}", c.dc_v,
                                          show_scaled(c.supervision_ohm, Dimension::resistance),
                                          show_scaled(c.coil_ohm, Dimension::resistance),
                                          show_scaled(c.input_ohm, Dimension::resistance),
                                          amp((*states)[0].supervision_a), volt((*states)[0].input_v)),
                              "Ohm's law, coil healthy, breaker closed"});
    answer.working.push_back({"I = U / (Rs + Rin), Uin = I Rin",
                              fmt::format("{:g} V / ({} + {}) = {}; input {}", c.dc_v,
                                          show_scaled(c.supervision_ohm, Dimension::resistance),
                                          show_scaled(c.input_ohm, Dimension::resistance),
                                          amp((*states)[1].supervision_a), volt((*states)[1].input_v)),
                              "Ohm's law, coil open, breaker closed"});
    answer.notes.push_back(
        "A parallel input and the coil share two poles of one fuse: measure the voltage before and "
        "after connecting, and check that the earth-fault indication of the battery is unchanged.");
    return answer;
}

} // namespace isochore::calc
