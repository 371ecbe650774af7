#include "calc/ct_phases.h"
#include "calc/show_electric.h"
#include "calc/usual.h"
#include "electrical/phase_sum.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;

std::string amp(double a)
{
    return show_scaled(a, Dimension::current, 4);
}

PhaseReadings read_phases(Inputs& in)
{
    PhaseReadings r;
    char const* names[] = {"phase_a", "phase_b", "phase_c"};
    for (std::size_t i = 0; i < 3; ++i) {
        r.phase_a[i] = in.quantity(names[i], Dimension::current);
        if (!in.error() && r.phase_a[i] < 0.0)
            in.refuse(Code::out_of_range, names[i], "a current has no sign here: enter its size");
    }
    r.sum_a = in.quantity("sum", Dimension::current);
    r.u_relative = given_or_usual(in, "ct.phases", "u_reading", Dimension::fraction);
    r.u_floor_a = given_or_usual(in, "ct.phases", "u_floor", Dimension::current);
    r.u_angle_rad = given_or_usual(in, "ct.phases", "u_angle", Dimension::angle);
    if (!in.error() && r.sum_a < 0.0)
        in.refuse(Code::out_of_range, "sum", "a current has no sign here: enter its size");
    if (!in.error() && (!(r.u_relative > 0.0) || r.u_floor_a < 0.0 || r.u_angle_rad < 0.0))
        in.refuse(Code::out_of_range, "u_reading", "must be above zero, and the others not below");
    return r;
}

/// The three must be nearly equal for the sum to tell anything.
bool balanced(PhaseReadings const& r, double allowed)
{
    auto const [least, most] = std::minmax_element(r.phase_a.begin(), r.phase_a.end());
    return *most > 0.0 && *least >= (1.0 - allowed) * *most;
}

/// "coil on A reversed, or coil on B reversed": what explains the sum, down to one in twenty.
std::string likely_words(std::vector<PhaseHypothesis> const& all)
{
    std::string words;
    for (PhaseHypothesis const& h : all)
        if (h.probability > 0.05)
            words += (words.empty() ? "" : ", or ") + h.text;
    return words;
}

/// Whether they sit alike is one question; which one does not is another, and a balanced load cannot answer
/// it.
void judge(Answer& answer, PhaseReadings const& r, std::vector<PhaseHypothesis> const& all, double alike,
           double allowed)
{
    double const sure = usual_si("ct.phases", "sure", Dimension::fraction);
    std::string const text = fmt::format("sum of the three reads {}: {} (all alike: {:.1f} % probable)",
                                         amp(r.sum_a), likely_words(all), alike * 100.0);
    if (!balanced(r, allowed))
        answer.checks.push_back(
            {"direction", Verdict::undecided,
             "the three readings are too unequal for their sum to tell the direction",
             fmt::format("Check again with the three within {:.0f} %, or look at the arrows on the "
                         "coils.",
                         allowed * 100.0),
             "guarded"});
    else if (alike >= sure)
        answer.checks.push_back({"direction", Verdict::pass, text, "", "guarded"});
    else if (alike <= 1.0 - sure)
        answer.checks.push_back(
            {"direction", Verdict::fail, text,
             "Look at the arrows on the coils and turn or move the one that differs; never open the "
             "secondary to do it.",
             "guarded"});
    else
        answer.checks.push_back({"direction", Verdict::undecided, text,
                                 "Check again at a larger load, or look at the arrows on the coils.",
                                 "guarded"});
}

} // namespace

Result<Answer> ct_phases(Inputs& in)
{
    PhaseReadings const r = read_phases(in);
    double const allowed = given_or_usual(in, "ct.phases", "unbalance", Dimension::fraction);
    if (in.error())
        return tl::unexpected(*in.error());
    if (*std::max_element(r.phase_a.begin(), r.phase_a.end()) <= 0.0)
        return fail(Code::no_solution, "inputs.phase_a",
                    "all three phases read nothing: there is no load to judge by");
    auto const all = explain_sum(r);
    Answer answer;
    Json list = Json::array();
    for (PhaseHypothesis const& h : all)
        list.push_back({{"text", h.text},
                        {"expected_sum", figure_fact(h.expected_sum_a, "A")},
                        {"direction", h.direction},
                        {"angle_rad", h.angle_rad},
                        {"probability", h.probability}});
    answer.facts["explanations"] = std::move(list);
    auto const right =
        std::find_if(all.begin(), all.end(), [](auto const& h) { return h.text == "all three alike"; });
    answer.add("expected_sum", right->expected_sum_a, "A").add("all_alike", right->probability, "1");
    answer.add("sum_read", r.sum_a, "A", sum_uncertainty_a(r));
    answer.expected.push_back({"sum", right->expected_sum_a, "A", {}, {}, {}});
    judge(answer, r, all, right->probability, allowed);
    answer.working.push_back(
        {"sum = |Ia + Ib at -120° + Ic at +120°|; one coil reversed makes it twice that phase",
         fmt::format("{}, {}, {}: {} expected, {} read", amp(r.phase_a[0]), amp(r.phase_a[1]),
                     amp(r.phase_a[2]), amp(right->expected_sum_a), amp(r.sum_a)),
         "phasor sum of a balanced three-phase load"});
    answer.notes.push_back(
        "Readings 1.732 times too large on all three, with a sum of zero, point at a delta lead.");
    answer.notes.push_back(
        "Never open a CT secondary that carries current: short it first, or use a clip-on coil, which "
        "opens nothing.");
    return answer;
}

} // namespace isochore::calc
