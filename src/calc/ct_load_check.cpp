#include "calc/ct_load_check.h"
#include "calc/ct_load_inputs.h"
#include "calc/show_electric.h"
#include "quantity/amount.h"
#include "uncertainty/interval.h"
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::calc {
namespace {

using namespace electrical;
using uncertainty::normal_coverage;

std::string amp(double a)
{
    return show_scaled(a, Dimension::current, 4);
}
std::string percent(double share, int digits = 3)
{
    return show_number(share * 100.0, digits) + " %";
}

void predict(Answer& answer, LoadCase const& c)
{
    LoadReading const& expected = c.expected;
    double const u = relative_uncertainty(expected) * expected.reading_a;
    answer.expected.push_back({"secondary_reading", expected.reading_a, "A", u,
                               expected.reading_a - normal_coverage * u, expected.reading_a + normal_coverage * u});
    answer.working.push_back({"reading = load / scale, scale = ratio / turns (/ sqrt 3 on a delta lead)",
                              fmt::format("{} / {:.6g} = {}", amp(c.reading.primary_a), c.recorded.scale(),
                                          amp(expected.reading_a)),
                              "rated transformation ratio, IEEE C57.13"});
}

std::string wiring_text(Wiring const& w)
{
    return fmt::format("{}{:g}:1, {} turn{}{}", w.terminals.empty() ? "" : w.terminals + ", ", w.ratio,
                       w.turns, w.turns == 1 ? "" : "s", w.delta ? ", delta lead" : "");
}

bool same_wiring(Wiring const& a, Wiring const& b)
{
    return a.terminals == b.terminals && a.turns == b.turns && a.delta == b.delta;
}

void rank(Answer& answer, LoadCase const& c)
{
    Explanation const why = explain_reading(possible_wirings(c.taps, c.recorded, c.most_turns), c.reading);
    Json list = Json::array();
    for (Wiring const& w : why.ranked)
        if (w.probability >= 0.001 || same_wiring(w, c.recorded))
            list.push_back({{"terminals", w.terminals},
                            {"ratio", w.ratio},
                            {"turns", w.turns},
                            {"delta", w.delta},
                            {"text", wiring_text(w)},
                            {"recorded", same_wiring(w, c.recorded)},
                            {"probability", w.probability},
                            {"expected_reading", c.reading.primary_a / w.scale()}});
    answer.facts["likely_taps"] = std::move(list);
    answer.facts["something_else"] = why.something_else;
    Wiring const& best = why.ranked.front();
    if (why.something_else > best.probability)
        answer.notes.push_back(
            "No pair and number of turns explains the reading: look for both conductors of a loop in "
            "one coil, a jaw not shut, the wrong core, or a load that is not what was told.");
    else if (!same_wiring(best, c.recorded) && std::fabs(best.scale() / c.recorded.scale() - 1.0) > 1e-9)
        answer.notes.push_back(
            fmt::format("Most likely wiring: {} ({} probable). Trace it before changing anything.",
                        wiring_text(best), percent(best.probability, 2)));
    for (std::size_t i = 1; i < why.ranked.size(); ++i)
        if (std::fabs(why.ranked[i].scale() / best.scale() - 1.0) < 1e-9 && why.ranked[i].probability > 0.05)
            answer.notes.push_back(
                fmt::format("{} reads the same as {}: no load check can tell them apart, look at "
                            "the terminals.",
                            wiring_text(why.ranked[i]), wiring_text(best)));
    answer.notes.push_back("Beforehand every pair and number of turns counts alike.");
}

void budget(Answer& answer, LoadCase const& c, double measured, double relative)
{
    double const floor = c.reading.u_floor_a / c.reading.reading_a;
    struct Part {
        char const* name;
        double share;
    };
    for (Part const& p :
         {Part{"known load", c.reading.u_primary}, Part{"reading", c.reading.u_reading},
          Part{"reading, noise floor", floor}, Part{"current transformer", c.reading.u_ratio}})
        answer.budget.push_back({p.name, p.share * measured,
                                 relative > 0.0 ? p.share * p.share / (relative * relative) : 0.0,
                                 "input or note"});
}

/// Pass, fail or undecided by whether the limit lies inside the 95 % interval of the error.
void judge(Answer& answer, LoadCase const& c, double error, double relative)
{
    double const reach = normal_coverage * relative;
    double const share_of_rated = c.reading.reading_a / c.recorded.turns / c.rated_secondary_a;
    double const expected_share = c.reading.primary_a / c.recorded.ratio / c.rated_secondary_a;
    std::string const text =
        fmt::format("ratio {} {} what was recorded (± {}), agreement asked {}", percent(std::fabs(error)),
                    error < 0.0 ? "below" : "above", percent(reach), percent(c.tolerance));
    if (std::max(share_of_rated, expected_share) < c.judge_above) {
        answer.facts["too_small"] = true;
        answer.checks.push_back({"load", Verdict::undecided,
                                 fmt::format("load too small to judge: {} of rated, at least {} is needed",
                                             percent(expected_share), percent(c.judge_above)),
                                 fmt::format("Check again when the primary carries {} or more.",
                                             amp(c.judge_above * c.rated_secondary_a * c.recorded.ratio)),
                                 "guarded"});
        return;
    }
    answer.facts["too_small"] = false;
    Verdict const v = std::fabs(error) + reach <= c.tolerance  ? Verdict::pass
                      : std::fabs(error) - reach > c.tolerance ? Verdict::fail
                                                               : Verdict::undecided;
    std::string remedy;
    if (v == Verdict::fail)
        remedy = "Trace the circuit again: core, terminal pair, turns through the coil.";
    if (v == Verdict::undecided)
        remedy =
            std::fabs(error) < c.tolerance
                ? fmt::format(
                      "Would be decided by instruments good for {} (standard uncertainty of the ratio), or "
                      "by a larger load if the noise floor leads the budget.",
                      percent((c.tolerance - std::fabs(error)) / normal_coverage, 2))
                : "Read load and current at the same moment, or use a better clamp.";
    answer.checks.push_back({"load", v, text, remedy, "guarded"});
}

} // namespace

Result<Answer> ct_load_check(Inputs& in)
{
    LoadCase const c = read_load(in);
    if (in.error())
        return tl::unexpected(*in.error());
    Answer answer;
    answer.facts["recorded"] = wiring_text(c.recorded);
    predict(answer, c);
    answer.notes.push_back(
        "Never open a CT secondary that carries current: short it first, or use a clip-on coil, "
        "which opens nothing.");
    if (!c.has_reading)
        return answer;
    if (!(c.reading.primary_a > 0.0)) {
        answer.facts["too_small"] = true;
        answer.checks.push_back({"load", Verdict::undecided,
                                 "load too small to judge: the primary carries nothing",
                                 fmt::format("Check again when the primary carries {} or more.",
                                             amp(c.judge_above * c.rated_secondary_a * c.recorded.ratio)),
                                 "guarded"});
        return answer;
    }
    if (!(c.reading.reading_a > 0.0)) {
        answer.checks.push_back(
            {"load", Verdict::fail,
             fmt::format("the coil reads nothing while the primary carries {}", amp(c.reading.primary_a)),
             "Both conductors of a loop in one coil read zero; so does an open jaw or a shorted "
             "lead. Do not open the circuit.",
             "simple"});
        return answer;
    }
    double const measured = c.reading.primary_a / c.reading.reading_a * c.recorded.turns *
                            (c.recorded.delta ? std::numbers::sqrt3 : 1.0);
    double const relative = relative_uncertainty(c.reading);
    double const error = measured / c.recorded.ratio - 1.0;
    answer.results.push_back({"measured_ratio", measured, "1", measured * relative,
                              measured * (1.0 - normal_coverage * relative),
                              measured * (1.0 + normal_coverage * relative)});
    answer.results.push_back({"error", error * 100.0, "%", relative * (1.0 + error) * 100.0, {}, {}});
    answer.working.push_back({"measured ratio = load x turns / reading (x sqrt 3 on a delta lead)",
                              fmt::format("{} x {} / {} = {:.5g}", amp(c.reading.primary_a), c.recorded.turns,
                                          amp(c.reading.reading_a), measured),
                              "rated transformation ratio, IEEE C57.13"});
    budget(answer, c, measured, relative);
    rank(answer, c);
    judge(answer, c, error, relative);
    return answer;
}

} // namespace isochore::calc
