#include "files/checklist_step.h"
#include "files/checklist_inputs.h"
#include "files/checklist_members.h"
#include "quantity/amount.h"
#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <set>

namespace isochore::files {
namespace {

using Code = Error::Code;
using model::Step;
using model::StepKind;

constexpr double longest_minutes = 24.0 * 60.0;
constexpr double longest_interval_s = 24.0 * 3600.0;

constexpr auto picture_names = std::to_array<std::string_view>(
    {"pt",      "purge",     "leak",   "forecast", "resistor", "wiring",   "wiring_choice",
     "chain",   "clearance", "taps",   "ct_path",  "thread",   "bolts",    "sightline",
     "cables",  "plan",      "limits", "phases",   "probe",    "dilution", "moisture",
     "account", "bag",       "loop",   "reading"});

/// A step whose kind cannot be read gets no kind-bound checks: they would only repeat the first fault.
std::optional<StepKind> read_kind(Members& members)
{
    static constexpr std::array kinds = {StepKind::confirm, StepKind::measure, StepKind::compute,
                                         StepKind::choose,  StepKind::log,     StepKind::attach};
    std::vector<std::string_view> words;
    for (auto const kind : kinds)
        words.emplace_back(model::step_kind_name(kind));
    auto const index = members.word("kind", words);
    return index ? std::optional(kinds[*index]) : std::nullopt;
}

void read_minutes(Members& members, Step& step)
{
    Json const& list = members.array("minutes");
    if (!members.has("minutes"))
        return;
    std::array<double, 3> minutes{};
    bool good = list.size() == minutes.size();
    for (std::size_t i = 0; good && i < minutes.size(); ++i) {
        good = list[i].is_number();
        minutes[i] = good ? list[i].get<double>() : 0.0;
    }
    if (!good || minutes[0] < 0.0 || minutes[0] > minutes[1] || minutes[1] > minutes[2] ||
        !(minutes[2] <= longest_minutes)) {
        members.refuse(Code::invalid_input, "minutes",
                       "must be three numbers of minutes, low, likely and high, none below the one before");
        return;
    }
    step.minutes_low = minutes[0];
    step.minutes_likely = minutes[1];
    step.minutes_high = minutes[2];
}

void read_condition(Members& members, Step& step)
{
    if (!members.has("when"))
        return;
    Members when(members.raw("when"), members.place("when"), members.report());
    model::StepCondition condition;
    condition.step = when.id("step", true);
    condition.answers = when.texts("answers");
    if (condition.answers.empty())
        when.refuse(Code::missing_input, "answers", "must name at least one answer");
    when.refuse_rest();
    step.when = std::move(condition);
}

void read_policy(Members& members, Step& step)
{
    static constexpr std::array policies = {model::OverridePolicy::never, model::OverridePolicy::reason,
                                            model::OverridePolicy::reason_and_pin};
    if (!members.has("may_override"))
        return;
    if (auto const index = members.word("may_override", {"never", "reason", "reason_and_pin"}))
        step.may_override = policies[*index];
}

/// Answers may be values of a calculation ("X1-X5", "2000:5", "1/4-20", "SAE 5"), so they are freer than
/// other ids.
std::string read_answer_id(Members& item)
{
    auto id = item.text("id");
    auto const allowed = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
               c == '-' || c == ':' || c == '.' || c == '/' || c == ' ';
    };
    bool const spaced = id.starts_with(' ') || id.ends_with(' ');
    if (id.size() > 40 || spaced || !std::ranges::all_of(id, allowed))
        item.refuse(
            Code::invalid_input, "id",
            fmt::format(
                "\"{}\" is not an answer's id: use letters, digits, _ - : . / and spaces inside, at most 40",
                id));
    return id;
}

void read_answers(Members& members, Step& step)
{
    Json const& list = members.array("answers");
    for (std::size_t i = 0; i < list.size(); ++i) {
        Members item(list[i], item_place(members.place("answers"), i), members.report());
        model::StepAnswer answer;
        answer.id = read_answer_id(item);
        answer.label = item.text("label");
        answer.ok = item.flag_or("ok", true);
        answer.then = item.text_or("then");
        item.refuse_rest();
        if (!answer.ok && answer.then.empty())
            item.refuse(Code::missing_input, "then",
                        "an answer that is not ok must tell the crew what to do");
        if (std::ranges::any_of(step.answers, [&](auto const& a) { return a.id == answer.id; }))
            item.refuse(Code::invalid_input, "id", fmt::format("answer \"{}\" is there twice", answer.id));
        step.answers.push_back(std::move(answer));
    }
    step.compare = members.texts("compare");
    if (!step.compare.empty() &&
        (step.kind != StepKind::confirm || std::ranges::all_of(step.answers, &model::StepAnswer::ok)))
        members.refuse(Code::invalid_input, "compare",
                       "only a confirm step with an answer for each outcome, ok and not ok, can compare");
    std::size_t const least = step.kind == StepKind::choose ? 2 : 1;
    if (step.answers.size() < least)
        members.refuse(Code::missing_input, "answers", fmt::format("needs {} or more", least));
    else if (std::ranges::none_of(step.answers, &model::StepAnswer::ok))
        members.refuse(Code::invalid_input, "answers", "no answer is ok, so the step could never be done");
}

std::optional<Dimension> read_dimension(Members& members)
{
    std::size_t const before = members.report().errors.size();
    auto const name = members.text("dimension");
    auto const dimension = dimension_by_name(name);
    if (!dimension && members.report().errors.size() == before)
        members.refuse(Code::unknown, "dimension", fmt::format("\"{}\" is not a dimension", name));
    return dimension;
}

/// A unit as a chip shows it, "bar g" included: good when "1 bar g" can be read.
void check_unit(Members& members, std::string_view name, std::string const& unit, Dimension dimension)
{
    auto const amount = parse_amount("1 " + unit, dimension, name);
    if (!amount)
        members.refuse(amount.error().code, name, amount.error().detail);
}

std::optional<double> read_bound(Members& members, std::string_view name, Dimension dimension,
                                 std::string& text)
{
    text = members.text_or(name);
    if (text.empty())
        return std::nullopt;
    auto const amount = parse_amount(text, dimension, name);
    if (!amount) {
        members.refuse(amount.error().code, name, amount.error().detail);
        return std::nullopt;
    }
    return amount->si;
}

void check_order(Members& members, std::string_view name, std::optional<double> low,
                 std::optional<double> high)
{
    if (low && high && *low > *high)
        members.refuse(Code::invalid_input, name, "lies above its own upper end");
}

/// A side of a limit: an amount of the step's dimension, or where to find one.
std::string read_limit_side(Members& limit, std::string_view name, Dimension dimension)
{
    auto const text = limit.text_or(name);
    if (text.empty())
        return text;
    auto const reference = read_input_reference(text);
    if (!reference || reference->kind == InputReference::Kind::series) {
        limit.refuse(Code::invalid_input, name, fmt::format("\"{}\" does not point at one value", text));
    } else if (reference->kind == InputReference::Kind::literal) {
        auto const amount = parse_amount(text, dimension, name);
        if (!amount)
            limit.refuse(amount.error().code, name, amount.error().detail);
    }
    return text;
}

void read_limit(Members& members, Step& step)
{
    if (!members.has("limit"))
        return;
    Members json(members.raw("limit"), members.place("limit"), members.report());
    model::StepLimit limit;
    limit.min = read_limit_side(json, "min", step.dimension);
    limit.max = read_limit_side(json, "max", step.dimension);
    limit.source = json.text("source");
    if (auto const index = json.word("confidence", {"unconfirmed", "confirmed"}))
        limit.confirmed = *index == 1;
    json.refuse_rest();
    if (limit.min.empty() && limit.max.empty())
        json.refuse(Code::missing_input, {}, "must have min, max or both");
    step.limit = std::move(limit);
}

/// The four bounds of whatever is read off an instrument: a measure step or a column of a log.
template <class Asked> void read_bounds(Members& members, Dimension dimension, Asked& asked)
{
    auto const read = [&](char const* name, std::string& into) {
        return read_bound(members, name, dimension, into);
    };
    check_order(members, "plausible_min", read("plausible_min", asked.plausible_min),
                read("plausible_max", asked.plausible_max));
    check_order(members, "possible_min", read("possible_min", asked.possible_min),
                read("possible_max", asked.possible_max));
}

std::optional<model::CalcCall> read_call(Members& members, std::string_view name, bool is_prediction)
{
    if (!members.has(name))
        return std::nullopt;
    Members json(members.raw(name), members.place(name), members.report());
    model::CalcCall call;
    call.calc = json.text("calc");
    if (is_prediction)
        call.result = json.text("result");
    Json const& inputs = json.raw("inputs");
    if (inputs.is_object())
        call.inputs_json = inputs.dump(-1, ' ', false, Json::error_handler_t::replace);
    else
        json.refuse(Code::corrupt, "inputs", "must be an object of named inputs");
    json.refuse_rest();
    std::set<std::string> seen;
    for (auto const& input : input_texts(inputs)) {
        auto const reference = read_input_reference(input.text);
        if (!reference)
            json.refuse(Code::invalid_input, "inputs." + input.place,
                        fmt::format("\"{}\" does not say which value is meant", input.text));
        else if (reference->kind == InputReference::Kind::step ||
                 reference->kind == InputReference::Kind::series)
            if (seen.insert(reference->target).second)
                call.uses.push_back(reference->target);
    }
    return call;
}

void read_measure(Members& members, Step& step)
{
    step.instrument = members.text_or("instrument");
    step.free_text = members.flag_or("free_text", false);
    if (step.free_text)
        return;
    auto const dimension = read_dimension(members);
    step.units = members.texts("units");
    if (step.units.empty())
        members.refuse(Code::missing_input, "units", "needs at least one unit");
    if (dimension) {
        step.dimension = *dimension;
        for (std::size_t i = 0; i < step.units.size(); ++i)
            check_unit(members, item_place("units", i), step.units[i], *dimension);
        read_bounds(members, *dimension, step);
        read_limit(members, step);
    } else {
        for (auto const* name : {"plausible_min", "plausible_max", "possible_min", "possible_max", "limit"})
            (void)members.raw(name);
    }
    step.expected = read_call(members, "expected", true);
}

void read_compute(Members& members, Step& step)
{
    step.call = read_call(members, "call", false);
    if (!step.call)
        members.refuse(Code::missing_input, "call", "this kind of step must say what to compute");
    step.show = members.texts("show");
}

void read_log(Members& members, Step& step)
{
    Json const& list = members.array("columns");
    for (std::size_t i = 0; i < list.size(); ++i) {
        Members item(list[i], item_place(members.place("columns"), i), members.report());
        model::LogColumn column;
        column.id = item.id("id");
        column.label = item.text("label");
        auto const dimension = read_dimension(item);
        column.units = item.texts("units");
        if (column.units.empty())
            item.refuse(Code::missing_input, "units", "needs at least one unit");
        if (dimension) {
            column.dimension = *dimension;
            for (std::size_t u = 0; u < column.units.size(); ++u)
                check_unit(item, item_place("units", u), column.units[u], *dimension);
            read_bounds(item, *dimension, column);
            if (*dimension == Dimension::time)
                item.refuse(Code::invalid_input, "dimension",
                            "a log keeps its own time: leave this column out");
        }
        item.refuse_rest();
        step.columns.push_back(std::move(column));
    }
    if (step.columns.empty())
        members.refuse(Code::missing_input, "columns", "a log needs at least one reading");
    step.interval_s = members.number_or("interval_s", 1.0, longest_interval_s, step.interval_s);
    read_compute(members, step);
    step.instrument = members.text_or("instrument");
}

void read_of_kind(Members& members, Step& step)
{
    switch (step.kind) {
    case StepKind::confirm:
    case StepKind::choose:
        return read_answers(members, step);
    case StepKind::measure:
        return read_measure(members, step);
    case StepKind::compute:
        return read_compute(members, step);
    case StepKind::log:
        return read_log(members, step);
    case StepKind::attach:
        return;
    }
}

void read_picture(Members& members, Step& step)
{
    if (members.has("picture"))
        if (auto const index = members.word("picture", {picture_names.begin(), picture_names.end()}))
            step.picture = picture_names[*index];
}

} // namespace

Step read_step(Json const& json, std::string const& place, FileReport& report)
{
    Members members(json, place, report);
    Step step;
    step.id = members.id("id", true);
    auto const kind = read_kind(members);
    step.title = members.text("title");
    step.text = members.text("text");
    step.why = members.text_or("why");
    step.wrong = members.text_or("wrong");
    step.cautions = members.texts("cautions");
    step.needs = members.texts("needs");
    read_condition(members, step);
    step.last_start = members.flag_or("last_start", false);
    step.more_parts = members.flag_or("more_parts", false);
    step.hold = members.flag_or("hold", false);
    step.physical = members.flag_or("physical", false);
    step.challenge = members.flag_or("challenge", false);
    read_policy(members, step);
    step.may_defer = members.flag_or("may_defer", true);
    step.source = members.text("source");
    read_minutes(members, step);
    read_picture(members, step);
    if (!kind)
        return step;
    step.kind = *kind;
    if (step.challenge && step.kind != StepKind::confirm && step.kind != StepKind::choose)
        members.refuse(Code::invalid_input, "challenge",
                       "only an answer can be called out and repeated: use a confirm or choose step");
    read_of_kind(members, step);
    members.refuse_rest();
    return step;
}

} // namespace isochore::files
