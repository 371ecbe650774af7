#include "session/evaluate.h"
#include "calc/registry.h"
#include "session/calibration.h"
#include "session/display.h"
#include "session/own_parts.h"
#include "session/slip.h"
#include "json/member.h"
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>

namespace isochore::session {
namespace {

using model::Step;

/// Absolute and gauge readings are held against each other as absolute ones.
double comparable(Amount const& amount, double air_pa)
{
    return amount.reference == PressureReference::gauge ? amount.si + air_pa : amount.si;
}

std::string show_like(double si, Amount const& like, double air_pa)
{
    double value = si;
    if (like.reference == PressureReference::gauge)
        value -= air_pa;
    return show_amount(value, *like.unit, 4, like.reference);
}

struct Bounds {
    std::optional<Amount> min, max;
};

std::optional<Amount> bound(Context const& context, Dimension dimension, std::string const& reference)
{
    if (reference.empty())
        return std::nullopt;
    auto const text = resolve_text(context, reference);
    if (!text)
        return std::nullopt;
    auto const amount = parse_amount(*text, dimension, reference);
    return amount ? std::optional(*amount) : std::nullopt;
}

Bounds bounds(Context const& context, Dimension dimension, std::string const& min, std::string const& max)
{
    return {bound(context, dimension, min), bound(context, dimension, max)};
}

/// "between 0.3 and 0.9 MPa abs", in the unit that was typed.
std::string range_text(Bounds const& b, Amount const& like, double air_pa)
{
    auto const show = [&](Amount const& a) { return show_like(comparable(a, air_pa), like, air_pa); };
    if (b.min && b.max)
        return show(*b.min) == show(*b.max) ? fmt::format("exactly {}", show(*b.min))
                                            : fmt::format("between {} and {}", show(*b.min), show(*b.max));
    if (b.min)
        return fmt::format("at least {}", show(*b.min));
    return b.max ? fmt::format("at most {}", show(*b.max)) : std::string();
}

bool inside(Bounds const& b, double value, double air_pa)
{
    return (!b.min || value >= comparable(*b.min, air_pa)) && (!b.max || value <= comparable(*b.max, air_pa));
}

void judge_limit(Context const& context, Step const& step, Amount const& amount, double air_pa,
                 Evaluation& out)
{
    if (!step.limit)
        return;
    Bounds const b = bounds(context, step.dimension, step.limit->min, step.limit->max);
    if (!b.min && !b.max) {
        out.verdict = "undecided";
        out.reason = "The limit of this step is not known yet, so nothing can be said.";
        out.remedy = "Record what the limit is worked out from, then enter the reading again.";
        return;
    }
    bool const good = inside(b, comparable(amount, air_pa), air_pa);
    out.verdict = good ? "pass" : "fail";
    out.rule = "simple acceptance: the reading is held against the limit as it stands";
    std::string const range = range_text(b, amount, air_pa);
    char const* const standing = step.limit->confirmed ? "confirmed" : "unconfirmed";
    out.reason =
        good ? fmt::format("{} is {} ({}, {}).", amount.typed, range, step.limit->source, standing)
             : fmt::format("{} is not {} ({}, {}).", amount.typed, range, step.limit->source, standing);
}

void hold_against_prediction(Prediction const& p, Amount const& amount, double air_pa, Evaluation& out)
{
    Amount expected = amount;
    expected.si = p.value;
    expected.reference = p.reference == PressureReference::none ? amount.reference : p.reference;
    double const reading = comparable(amount, air_pa);
    double const middle = comparable(expected, air_pa);
    double const half = std::max(p.high - p.low, 0.0) / 2.0;
    // Ratios are taken in the reading's own reference: a gauge reading ten times too large is so as a gauge
    // reading.
    double const middle_as_read = middle - (reading - amount.si);
    if (std::fabs(reading - middle) > half)
        if (std::string const slip = slip_question(amount, middle_as_read, air_pa); !slip.empty())
            out.question = slip + fmt::format(" Expected {}.", p.text);
    if (out.verdict == "none" || out.verdict == "pass") {
        bool const within = std::fabs(reading - middle) <= half || half == 0.0;
        std::string const text = within ? fmt::format("As predicted: {}.", p.text)
                                        : fmt::format("Outside the prediction: {}.", p.text);
        out.reason += (out.reason.empty() ? "" : " ") + text;
        if (!within && out.question.empty())
            out.question =
                fmt::format("The reading lies outside the prediction ({}). Read again, or keep it?", p.text);
    }
}

std::string echo_of(Amount const& amount, Air const& air)
{
    if (amount.dimension == Dimension::pressure) {
        Unit const* mpa = find_unit("MPa", Dimension::pressure);
        double const absolute =
            amount.reference == PressureReference::gauge ? amount.si + air.pressure_pa : amount.si;
        std::string const number = fmt::format("{:.6g}", amount.value),
                          mpa_absolute = show_number(mpa->from_si(absolute), 4);
        // The same unit twice would catch no slip.
        if (amount.unit == mpa && amount.reference == PressureReference::absolute)
            return fmt::format("{} MPa absolute = {:.4g} bar absolute", number, absolute / 1e5);
        return amount.reference == PressureReference::gauge
                   ? fmt::format("{} {} gauge = {} MPa absolute", number, amount.unit->label(), mpa_absolute)
                   : fmt::format("{} {} absolute = {} MPa absolute", number, amount.unit->label(),
                                 mpa_absolute);
    }
    for (auto const& [from, to] : {std::pair{"degF", "degC"}, {"lb", "kg"}, {"in", "mm"}, {"ft", "m"}})
        if (amount.unit->name == from)
            if (Unit const* unit = find_unit(to, amount.dimension))
                return fmt::format("{:.6g} {} = {}", amount.value, amount.unit->label(),
                                   show_amount(amount.si, *unit, 4));
    return fmt::format("{:.6g} {}", amount.value, amount.unit->label());
}

Evaluation judge_amount(Context const& context, Step const& step, std::string_view typed, Dimension dimension)
{
    Evaluation out;
    out.verdict = "none";
    auto const amount = parse_amount(typed, dimension, step.title);
    if (!amount) {
        out.problem = amount.error().detail;
        return out;
    }
    Air const air = air_of(context);
    out.amount = *amount;
    out.echo = echo_of(*amount, air);
    return out;
}

/// What slip would bring a usual reading to this one, from what is usual here; empty where that is not known.
std::string hint_from(Bounds const& plausible, Amount const& amount, double air_pa)
{
    if (!plausible.min || !plausible.max)
        return {};
    return slip_hint(amount, air_pa, [&](double si) { return inside(plausible, si, air_pa); });
}

std::string and_hint(std::string text, std::string const& hint)
{
    return hint.empty() ? text : text + " " + hint;
}

/// What cannot be is blocked, with the slip that may be behind it: `known_slip` where an earlier reading
/// tells, else from what is usual. `asked` is the step, or one column of its log.
template <class Asked>
bool refuse_impossible(Context const& context, Asked const& asked, double air_pa, std::string known_slip,
                       Evaluation& out)
{
    Bounds const possible = bounds(context, asked.dimension, asked.possible_min, asked.possible_max);
    if (inside(possible, comparable(*out.amount, air_pa), air_pa))
        return false;
    if (known_slip.empty())
        known_slip = hint_from(bounds(context, asked.dimension, asked.plausible_min, asked.plausible_max),
                               *out.amount, air_pa);
    out.problem = and_hint(fmt::format("{} is not possible here: it must be {}.", out.amount->typed,
                                       range_text(possible, *out.amount, air_pa)),
                           known_slip);
    return true;
}

/// What is unusual is asked about, unless there is a better question already.
template <class Asked>
void ask_unusual(Context const& context, Asked const& asked, double air_pa, Evaluation& out)
{
    Bounds const plausible = bounds(context, asked.dimension, asked.plausible_min, asked.plausible_max);
    if (!out.question.empty() || inside(plausible, comparable(*out.amount, air_pa), air_pa))
        return;
    out.question = and_hint(fmt::format("{} is unusual: most readings are {}. Is it right?",
                                        out.amount->typed, range_text(plausible, *out.amount, air_pa)),
                            hint_from(plausible, *out.amount, air_pa));
}

/// A check's text as a sentence of its own.
std::string sentence(std::string text)
{
    if (text.empty())
        return text;
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    if (text.back() != '.')
        text += '.';
    return text;
}

/// The reason for a verdict: the checks that decided it. Where all of several hold, their count is enough;
/// each stands in the answer beside it.
std::string checks_text(calc::Answer const& answer, calc::Verdict verdict, std::string& remedy,
                        std::string& rule)
{
    std::vector<calc::Check const*> deciding;
    for (auto const& check : answer.checks)
        if (check.verdict == verdict)
            deciding.push_back(&check);
    std::string text;
    for (auto const* check : deciding) {
        text += (text.empty() ? "" : " ") + sentence(check->text);
        if (remedy.empty())
            remedy = sentence(check->remedy);
        if (rule.empty())
            rule = check->rule;
    }
    if (verdict == calc::Verdict::pass && deciding.size() > 1)
        return fmt::format("All {} checks hold.", deciding.size());
    return text;
}

/// An instrument past its date spoils whatever was read with it, so each verdict says so.
void say_past_instruments(Context const& context, Step const& step, Evaluation& out)
{
    std::string const text = past_date_text(past_instruments(context, step));
    if (!text.empty())
        out.reason += (out.reason.empty() ? "" : " ") + text;
}

/// A calculation names the input it refuses as its own files do; a person is told in words. Of a log, which
/// is in hand, only the reading is named.
std::string said_at(Error const& error)
{
    constexpr std::string_view own = "inputs.";
    std::string detail = error.detail;
    if (!detail.empty())
        detail[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(detail[0])));
    std::string_view place = error.where;
    bool const input = place.starts_with(own);
    if (input)
        place.remove_prefix(own.size());
    constexpr std::string_view readings = "series";
    if (input && place.starts_with(readings)) {
        if (place.size() < readings.size() + 3)
            return detail;
        int const index = std::atoi(std::string(place.substr(readings.size() + 1)).c_str()); // "series[2]"
        return fmt::format("{} (reading {})", detail, index + 1);
    }
    return fmt::format("{} ({})", detail, input ? label_of(std::string(place)) : error.where);
}

} // namespace

Evaluation evaluate_value(Context const& context, Step const& step, std::string_view typed)
{
    if (step.free_text) {
        Evaluation out;
        out.verdict = "none";
        if (typed.find_first_not_of(' ') == std::string_view::npos)
            out.problem = "Nothing was entered.";
        else
            out.echo = std::string(typed);
        return out;
    }
    Evaluation out = judge_amount(context, step, typed, step.dimension);
    if (!out.ok())
        return out;
    double const air = air_of(context).pressure_pa;
    if (refuse_impossible(context, step, air, {}, out))
        return out;
    judge_limit(context, step, *out.amount, air, out);
    out.prediction = predict(context, step, unit_as_typed(*out.amount));
    if (out.prediction)
        hold_against_prediction(*out.prediction, *out.amount, air, out);
    ask_unusual(context, step, air, out);
    say_past_instruments(context, step, out);
    return out;
}

std::vector<model::StepAnswer> answers_of(Context const& context, Step const& step)
{
    auto answers = step.answers;
    if (step.more_parts && context.parts)
        for (auto const& part : own_fittings(*context.parts))
            answers.push_back({text_member(part, "id"), text_member(part, "name"), true, {}});
    return answers;
}

Evaluation evaluate_answer(Context const& context, Step const& step, std::string_view answer)
{
    Evaluation out;
    for (auto const& a : answers_of(context, step))
        if (a.id == answer) {
            out.echo = a.label;
            out.verdict = step.kind == model::StepKind::choose ? "none" : a.ok ? "pass" : "fail";
            out.reason = a.then;
            if (!a.ok && out.reason.empty())
                out.reason = a.label;
            return out;
        }
    std::string ids;
    for (auto const& a : answers_of(context, step))
        ids += (ids.empty() ? "" : ", ") + a.id;
    out.problem = fmt::format("\"{}\" is not an answer of this step. Its answers: {}.", answer, ids);
    return out;
}

Evaluation evaluate_call(Context const& context, Step const& step)
{
    Evaluation out;
    out.verdict = "none";
    if (!step.call) {
        out.problem = "This step has no calculation.";
        return out;
    }
    out.inputs = resolve_inputs(context, *step.call);
    auto answer = calc::run(step.call->calc, out.inputs);
    if (!answer) {
        out.problem = said_at(answer.error());
        return out;
    }
    calc::Verdict const verdict = answer->verdict();
    out.verdict = calc::verdict_name(verdict);
    out.reason = checks_text(*answer, verdict, out.remedy, out.rule);
    for (auto const& use : past_instruments(context, step))
        answer->working.push_back({fmt::format("{} is past its calibration date", use.name),
                                   fmt::format("{}, read at “{}”", use.due, use.step), "kit list"});
    say_past_instruments(context, step, out);
    out.result = calc::to_json(*answer);
    out.answer = std::move(*answer);
    return out;
}

Evaluation evaluate_cell(Context const& context, Step const& step, std::size_t i, std::string_view typed)
{
    auto const& column = step.columns[i];
    Evaluation out = judge_amount(context, step, typed, column.dimension);
    double const air = air_of(context).pressure_pa;
    if (!out.ok())
        return out;
    std::string slip;
    auto const& readings = context.state.record(step.id).readings;
    if (!readings.empty() && i < readings.back().values.size())
        if (auto const before = parse_amount(readings.back().values[i], column.dimension, "")) {
            double const as_read = comparable(*before, air) - (comparable(*out.amount, air) - out.amount->si);
            slip = slip_question(*out.amount, as_read, air);
            if (!slip.empty())
                slip += fmt::format(" The last reading was {}.", before->typed);
        }
    if (refuse_impossible(context, column, air, slip, out))
        return out;
    out.question = slip;
    ask_unusual(context, column, air, out);
    return out;
}

Evaluation evaluate_reading(Context const& context, Step const& step, std::vector<std::string> const& typed)
{
    Evaluation out;
    out.verdict = "none";
    if (typed.size() != step.columns.size()) {
        out.problem = fmt::format("A reading here has {} values.", step.columns.size());
        return out;
    }
    for (std::size_t i = 0; i < typed.size(); ++i) {
        Evaluation const one = evaluate_cell(context, step, i, typed[i]);
        if (!one.ok()) {
            out.problem = step.columns[i].label + ": " + one.problem;
            return out;
        }
        out.echo += (i ? ", " : "") + one.echo;
        if (out.question.empty() && !one.question.empty())
            out.question = step.columns[i].label + ": " + one.question;
    }
    return out;
}

} // namespace isochore::session
