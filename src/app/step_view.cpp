#include "app/step_view.h"
#include "app/outage_frame.h"
#include "app/unit_habit.h"
#include "session/read_back.h"
#include "session/result_rows.h"
#include "session/step_picture.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::app {

using model::OverridePolicy;
using model::Step;
using model::StepKind;
using model::StepRecord;
using model::StepStatus;
using screens::Mark;
using session::Evaluation;

namespace {

struct Split {
    std::string number, unit;
};

/// "4.61 bar g" to its number and unit, for the big field.
Split split_typed(std::string const& typed)
{
    auto const space = typed.find(' ');
    if (space == std::string::npos)
        return {typed, {}};
    return {typed.substr(0, space), typed.substr(space + 1)};
}

std::string field_label(Step const& step, Words const& words)
{
    if (step.free_text)
        return words("Written down");
    switch (step.dimension) {
    case Dimension::pressure:
        return words("Pressure read");
    case Dimension::temperature:
        return words("Temperature read");
    case Dimension::mass:
        return words("Weight read");
    case Dimension::current:
        return words("Current read");
    case Dimension::voltage:
        return words("Voltage read");
    case Dimension::time:
        return words("Time read");
    case Dimension::count:
        return words("Counted");
    case Dimension::length:
        return words("Measured");
    default:
        return words("Reading");
    }
}

void fill_where(Desk& desk, Step const& step, screens::StepView& v)
{
    auto const& outage = *desk.outage;
    auto const* stage = outage.checklists().stage_of(step.id);
    int position = 0, applicable = 0;
    for (auto const& s : stage->steps) {
        if (model::applies(outage.checklists(), outage.state(), s) == false)
            continue;
        ++applicable;
        if (s.id == step.id)
            position = applicable;
    }
    v.where = position
                  ? desk.words.title(*stage) + "   " +
                        desk.words("step {} of {}", {std::to_string(position), std::to_string(applicable)})
                  : desk.words.title(*stage) + "   " + desk.words("other branch");
}

void fill_prose(Desk& desk, Step const& step, screens::StepView& v)
{
    v.title = desk.words.title(step);
    v.text = desk.words.text(step);
    v.why = desk.words.why(step);
    v.wrong = desk.words.wrong(step);
    v.source = desk.words.source(step.source);
    for (auto const& id : step.cautions)
        if (auto const it = desk.outage->checklists().cautions.find(id);
            it != desk.outage->checklists().cautions.end())
            v.cautions.push_back({desk.words.title(it->second), desk.words.text(it->second)});
    if (step.limit) {
        auto const context = desk.outage->context();
        auto const side = [&](std::string const& reference) {
            auto const known = session::resolve_text(context, reference);
            return reference.empty() ? std::string()
                   : known           ? desk.words.sentence(*known)
                                     : desk.words("not known yet");
        };
        std::string const low = side(step.limit->min), high = side(step.limit->max);
        std::string const range = low == high    ? desk.words("Limit exactly {}", {low})
                                  : low.empty()  ? desk.words("Limit at most {}", {high})
                                  : high.empty() ? desk.words("Limit at least {}", {low})
                                                 : desk.words("Limit {} to {}", {low, high});
        v.notes.push_back(
            session::in_print(fmt::format("{}: {} ({})", range, desk.words.source(step.limit->source),
                                          step.limit->confirmed ? desk.words("confirmed")
                                                                : desk.words("unconfirmed"))));
    }
}

/// What was typed or recorded, and what is expected of it in the unit in use.
session::ReadingInHand reading_in_hand(Desk& desk, Step const& step, StepDraft const& draft,
                                       Evaluation const& e)
{
    if (step.kind != StepKind::measure || step.free_text)
        return {};
    StepRecord const& record = desk.outage->state().record(step.id);
    session::ReadingInHand reading;
    if (!draft.typed.empty())
        reading = {e.amount, e.prediction};
    else if (record.status != StepStatus::reopened)
        reading = session::reading_of(step, record);
    if (!reading.expected)
        reading.expected =
            session::predict(desk.outage->context(), step,
                             reading.read ? session::unit_as_typed(*reading.read)
                                          : usual_unit(*desk.outage, step.dimension, step.units));
    return reading;
}

/// Fields of a measure step: the one big number.
void fill_measure(Desk& desk, Step const& step, StepDraft const& draft, Evaluation const& e,
                  std::optional<session::Prediction> const& expected, screens::StepView& v)
{
    StepRecord const& record = desk.outage->state().record(step.id);
    std::string const typed = !draft.typed.empty() ? draft.typed : record.typed;
    screens::FieldView field;
    field.id = "value";
    field.label = field_label(step, desk.words);
    if (step.free_text) {
        field.typed = typed;
    } else {
        Split const s = split_typed(typed);
        field.typed = s.number;
        std::string const unit =
            s.unit.empty() ? usual_unit(*desk.outage, step.dimension, step.units) : s.unit;
        field.unit = unit_shown(desk.words, unit);
    }
    if (expected)
        field.hint = desk.words("expected {}", {desk.words.sentence(expected->text)});
    if (!draft.typed.empty())
        field.problem = desk.words.sentence(e.problem);
    v.fields.push_back(std::move(field));
}

void fill_log(Desk& desk, Step const& step, StepDraft const& draft, screens::StepView& v)
{
    StepRecord const& record = desk.outage->state().record(step.id);
    for (std::size_t i = 0; i < step.columns.size(); ++i) {
        auto const& column = step.columns[i];
        screens::FieldView field;
        field.id = "column." + std::to_string(i);
        field.label = desk.words(column.label);
        std::string const typed = i < draft.values.size() ? draft.values[i] : std::string();
        Split const s = split_typed(typed);
        field.typed = s.number;
        std::string const unit =
            s.unit.empty() ? usual_unit(*desk.outage, column.dimension, column.units) : s.unit;
        field.unit = unit_shown(desk.words, unit);
        if (!record.readings.empty() && i < record.readings.back().values.size())
            field.hint = session::in_print(desk.words("last {}", {record.readings.back().values[i]}));
        v.fields.push_back(std::move(field));
    }
    for (auto const& r : record.readings) {
        std::string line = fmt::format("{:5.1f} min", r.t_s / 60.0);
        for (auto const& value : r.values)
            line += "   " + value;
        v.readings.push_back(session::in_print(std::move(line)));
    }
    if (!record.readings.empty() && !model::is_closed(record.status)) {
        double const since = desk.outage->log_seconds(step.id) - record.readings.back().t_s;
        long const left = std::lround(step.interval_s - since);
        v.countdown_label = left >= 0 ? desk.words("Next reading in") : desk.words("Reading overdue by");
        v.countdown = fmt::format("{}:{:02}", std::labs(left) / 60, std::labs(left) % 60);
        v.reading_due = left <= 0;
    }
}

/// What a comparison with the unit found so far: what differs first, then what is not read.
void fill_comparison(Desk& desk, Step const& step, screens::StepView& v)
{
    using State = media::ReadBackRow::State;
    auto const compared = session::compare_with_unit(*desk.outage, step);
    for (auto const wanted : {State::differs, State::unreadable, State::not_shown, State::same})
        for (auto const& row : compared.rows)
            if (row.state == wanted &&
                (wanted != State::not_shown ||
                 std::find(step.compare.begin(), step.compare.end(), row.path) != step.compare.end()))
                v.rows.push_back({desk.words.sentence(row.label), desk.words.sentence(row.expected),
                                  row.shown.empty() ? desk.words(media::state_name(row.state))
                                                    : desk.words.sentence(row.shown),
                                  wanted == State::same        ? Mark::pass
                                  : wanted == State::not_shown ? Mark::open
                                                               : Mark::fail});
}

void fill_answers(Desk& desk, Step const& step, StepDraft const& draft, screens::StepView& v)
{
    StepRecord const& record = desk.outage->state().record(step.id);
    std::string const chosen = !draft.answer.empty() ? draft.answer : record.answer;
    if (step.compare.empty())
        for (auto const& a : session::answers_of(desk.outage->context(), step))
            v.answers.push_back({a.id, desk.words.answer(step, a), a.id == chosen});
    else
        fill_comparison(desk, step, v);
    if (step.challenge) {
        Pair const pair = pair_of(*desk.outage, step, draft);
        v.fields.push_back({"reader", desk.words("Read by"), pair.reader, {}, false, {}, {}});
        v.fields.push_back({"doer", desk.words("Done by"), pair.doer, {}, false, {}, {}});
    }
}

void fill_results(Desk& desk, Step const& step, Json const& result, screens::StepView& v)
{
    if (result.is_null())
        return;
    auto const& words = desk.words;
    auto const taste = taste_of(*desk.outage);
    for (auto const& shown : session::show_results(result, step.show, taste))
        v.results.push_back({words(shown.label), words(shown.value), shown.uncertainty});
    auto const results = result.find("results");
    bool const bounds = results != result.end() && results->contains("constraints");
    if (bounds)
        for (auto const& c : (*results)["constraints"])
            v.rows.push_back(
                {words.sentence(text_member(c, "label")), words.sentence(text_member(c, "limit_text")),
                 words.sentence(text_member(c, "at_text")), mark_of_verdict(text_member(c, "verdict"))});
    // One check alone is said in the verdict already.
    if (auto const checks = result.find("checks");
        !bounds && checks != result.end() && checks->is_array() && checks->size() > 1)
        for (auto const& c : *checks)
            v.rows.push_back({words.sentence(session::label_of(text_member(c, "name"))),
                              {},
                              session::in_print(words.sentence(text_member(c, "text"))),
                              mark_of_verdict(text_member(c, "verdict"))});
    for (auto const& row : session::result_rows(result))
        v.rows.push_back({words.sentence(row.label), session::in_print(words.sentence(row.limit)),
                          session::in_print(words.sentence(row.value)), mark_of_verdict(row.verdict)});
    if (auto const working = result.find("working"); working != result.end() && working->is_array())
        for (auto const& w : *working)
            v.working.push_back({words.sentence(text_member(w, "formula")),
                                 session::in_print(words.sentence(text_member(w, "numbers"))),
                                 words.sentence(text_member(w, "source"))});
    if (auto const budget = result.find("budget"); budget != result.end() && budget->is_array())
        for (auto const& b : *budget)
            v.budget.push_back({words.sentence(session::label_of(text_member(b, "input"))),
                                words.sentence(text_member(b, "source")), number_member(b, "share")});
    if (auto const notes = result.find("notes"); notes != result.end() && notes->is_array())
        for (auto const& n : *notes)
            if (n.is_string()) // what was assumed belongs to the working, not on the sheet
                v.working.push_back({words("Note"), words.sentence(n.get<std::string>()), {}});
}

void fill_verdict(Desk& desk, Step const& step, StepDraft const& draft, Evaluation const& e,
                  StepRecord const& record, screens::StepView& v)
{
    auto const& words = desk.words;
    screens::VerdictView out;
    bool const fresh =
        !draft.typed.empty() || !draft.answer.empty() || !e.result.is_null() || !e.problem.empty();
    if (record.status == StepStatus::overridden) {
        out = {Mark::overridden, words("Overridden by {}", {record.override_by}), record.override_reason, {}};
    } else if (record.status == StepStatus::not_applicable && draft.typed.empty() && draft.answer.empty()) {
        out = {Mark::not_applicable, words("Does not apply"), record.not_applicable_reason, {}};
    } else if (record.status == StepStatus::deferred) {
        out = {Mark::deferred, words("Put off, owner {}", {record.defer_owner}), record.defer_reason, {}};
    } else if (record.status == StepStatus::reopened && draft.typed.empty() && draft.answer.empty()) {
        out = {Mark::undecided,
               words("Open again"),
               record.reopened_by_move.empty()
                   ? words("“{}” was corrected since. Look again and record it anew.",
                           {model::title_in_words(desk.outage->checklists(), record.reopened_because, words)})
                   : words("A newer revision opened it again. {}", {words.sentence(record.reopened_by_move)}),
               {}};
    } else if (fresh) {
        if (!e.problem.empty()) {
            out = {Mark::undecided, words("Not ready"), words.sentence(e.problem), {}};
        } else {
            out.mark = mark_of_verdict(e.verdict);
            out.title = verdict_title(e.verdict, step.kind, words, false);
            out.text = words.reason(step, e.reason);
            out.remedy = words.sentence(e.remedy);
            if (!e.question.empty()) {
                out.mark = Mark::undecided;
                out.title = words("Is that right?");
                out.text = words.sentence(e.question);
            }
        }
    } else if (record.entry >= 0) {
        out = {mark_of_verdict(record.verdict), verdict_title(record.verdict, step.kind, words, true),
               words.reason(step, record.reason), words.sentence(record.remedy)};
        if (out.mark == Mark::none)
            out.mark = Mark::recorded;
        if (out.text.empty())
            out.text = fmt::format("{}, {}", session::clock_time(record.at), record.who);
    }
    out.text = session::in_print(std::move(out.text));
    out.remedy = session::in_print(std::move(out.remedy));
    if (!out.title.empty())
        v.verdict = std::move(out);
}

void fill_history(Desk& desk, StepRecord const& record, screens::StepView& v)
{
    auto const& outage = *desk.outage;
    for (auto const n : record.history) {
        Json const& body = outage.bodies()[static_cast<std::size_t>(n)];
        std::string const at = text_member(body, "at");
        v.history.push_back({session::calendar_day(at) + " " + session::clock_time(at),
                             text_member(body, "who"), outage.describe(body, desk.words)});
    }
}

std::string primary_label(Step const& step, StepDraft const& draft, Words const& words)
{
    switch (step.kind) {
    case StepKind::measure:
        return draft.typed.empty() ? words("Enter reading") : words("Record reading");
    case StepKind::confirm:
        return words("Record answer");
    case StepKind::choose:
        return words("Record choice");
    case StepKind::compute:
        return words("Record result");
    case StepKind::log:
        return words("End log");
    case StepKind::attach:
        return words("Name the file");
    }
    return words("Record");
}

/// What a disturbed series asks for leads; else it is offered.
screens::ActionView new_series(Words const& words, bool leads)
{
    return {"new_series", words("New series"), words("say why"), leads, true, false};
}

/// Whether the calculation of a log found it disturbed: going on with it leads nowhere.
bool is_disturbed(Evaluation const& e)
{
    return member(member(e.result, "results"), "disturbed").is_string();
}

void fill_actions(Desk& desk, Step const& step, StepDraft const& draft, Evaluation const& e,
                  screens::StepView& v)
{
    auto const& words = desk.words;
    StepRecord const& record = desk.outage->state().record(step.id);
    bool const closed = model::is_closed(record.status);
    bool const decided =
        closed || record.status == StepStatus::failed || record.status == StepStatus::undecided;
    bool const fresh = !draft.typed.empty() || !draft.answer.empty() || draft.correcting;
    v.recorded = decided && !fresh;
    v.actions.push_back({"back", words("Back"), {}, false, true, false});
    if (!v.locked.empty()) {
        v.actions.push_back({"unlock", words("Go to what opens it"), {}, true, true, false});
        return;
    }
    if (desk.outage->state().sealed) {
        v.actions.push_back({"next", words("Next step"), {}, true, true, false});
        return;
    }
    if (v.recorded) {
        v.actions.push_back({"correct", words("Correct"), {}, false, true, false});
        if ((record.status == StepStatus::failed || record.status == StepStatus::undecided) &&
            step.may_override != OverridePolicy::never)
            v.actions.push_back({"override", words("Override"), words("say why"), false, true, false});
        // In place of putting it off, so that the actions stay few: begun anew, a log can be put off.
        if (!closed && step.kind == StepKind::log)
            v.actions.push_back(new_series(words, false));
        else if (!closed && step.may_defer && !step.hold)
            v.actions.push_back({"later", words("Not now"), words("say why"), false, true, false});
        v.actions.push_back({"next", words("Next step"), {}, true, true, false});
        return;
    }
    bool const disturbed = step.kind == StepKind::log && is_disturbed(e);
    if (step.kind == StepKind::log && !record.readings.empty())
        v.actions.push_back(new_series(words, disturbed));
    else if (step.may_defer && !step.hold)
        v.actions.push_back({"later", words("Not now"), words("say why"), false, true, false});
    if (step.kind == StepKind::log) {
        bool const full =
            draft.values.size() == step.columns.size() &&
            std::none_of(draft.values.begin(), draft.values.end(), [](auto const& t) { return t.empty(); });
        v.actions.push_back({"reading",
                             full ? words("Add reading") : words("Enter reading"),
                             {},
                             record.readings.size() < 3,
                             true,
                             false});
        v.actions.push_back({"record",
                             words("End log"),
                             {},
                             record.readings.size() >= 3 && !disturbed,
                             !record.readings.empty() && e.problem.empty(),
                             false});
        return;
    }
    bool ready = true;
    if (step.kind == StepKind::compute)
        ready = e.problem.empty();
    if (step.kind == StepKind::confirm || step.kind == StepKind::choose)
        ready = !draft.answer.empty();
    std::string label = primary_label(step, draft, words);
    if (!step.compare.empty()) {
        v.actions.push_back({"compare", words("Compare with the unit"), {}, true, true, false});
        return;
    }
    // The kit list leads until an answer is chosen; then recording it does. One action leads, never two.
    if (step.id == "prepare.kit")
        v.actions.push_back({"kit", words("Open the kit list"), {}, !ready, true, false});
    if (step.id == "settings.write")
        v.actions.push_back({"stick", words("Write the stick"), {}, true, true, false});
    else if (step.id == "handback.sign" || step.id == "handback.review")
        v.actions.push_back({"review", words("Review and sign"), {}, true, true, false});
    if (step.id == "handback.sign")
        return; // signing is done on its own sheet
    bool const special =
        step.id == "settings.write" || step.id == "handback.review" || (step.id == "prepare.kit" && !ready);
    v.actions.push_back({"record", std::move(label), {}, !special, ready, false});
}

} // namespace

std::string verdict_title(std::string const& verdict, StepKind kind, Words const& words, bool recorded)
{
    if (verdict == "pass" && kind == StepKind::confirm)
        return recorded ? words("Recorded: as it must be") : words("As it must be");
    if (verdict == "pass")
        return recorded ? words("Recorded: within limits") : words("Within limits");
    if (verdict == "fail")
        return words("Not as it must be");
    if (verdict == "undecided")
        return words("Cannot tell yet");
    return recorded ? words("Recorded") : std::string();
}

Pair pair_of(session::Outage const& outage, Step const& step, StepDraft const& draft)
{
    StepRecord const& record = outage.state().record(step.id);
    auto const& crew = outage.state().crew;
    bool const two = crew.size() > 1;
    return {!draft.reader.empty()    ? draft.reader
            : !record.reader.empty() ? record.reader
            : two                    ? crew[0]
                                     : std::string(),
            !draft.doer.empty()    ? draft.doer
            : !record.doer.empty() ? record.doer
            : two                  ? crew[1]
                                   : std::string()};
}

session::UnitTaste taste_of(session::Outage const& outage)
{
    session::UnitTaste taste;
    std::int64_t pressure_at = -1, mass_at = -1, temperature_at = -1;
    auto const newer = [](std::int64_t& at, std::int64_t entry) {
        return entry > at && ((at = entry), true);
    };
    for (auto const& [id, record] : outage.state().records) {
        Step const* step = outage.checklists().step(id);
        if (!step || record.typed.empty() || step->kind != StepKind::measure || step->free_text)
            continue;
        auto const amount = parse_amount(record.typed, step->dimension, id);
        if (!amount)
            continue;
        // The gauge in use decides; a nameplate or a vacuum reading does not.
        if (step->dimension == Dimension::pressure && amount->reference == PressureReference::gauge &&
            newer(pressure_at, record.entry))
            taste.pressure = amount->unit->name;
        if (step->dimension == Dimension::mass && amount->si > 1.0 && newer(mass_at, record.entry))
            taste.mass = amount->unit->name == "lb" ? "lb" : "kg";
        if (step->dimension == Dimension::temperature && newer(temperature_at, record.entry))
            taste.temperature = amount->unit->name;
    }
    return taste;
}

Evaluation evaluate_draft(Desk& desk, Step const& step, StepDraft const& draft)
{
    auto const context = desk.outage->context();
    auto const status = context.state.record(step.id).status;
    bool const recorded =
        model::is_closed(status) || status == StepStatus::failed || status == StepStatus::undecided;
    bool const fresh = draft.correcting || !draft.typed.empty() || !draft.answer.empty();
    if ((recorded && !fresh) || !model::locked_because(context.checklists, context.state, step).empty())
        return {};
    switch (step.kind) {
    case StepKind::measure:
        return draft.typed.empty() ? Evaluation{} : session::evaluate_value(context, step, draft.typed);
    case StepKind::confirm:
    case StepKind::choose:
        return draft.answer.empty() ? Evaluation{} : session::evaluate_answer(context, step, draft.answer);
    case StepKind::compute:
        return session::evaluate_call(context, step);
    case StepKind::log:
        if (step.call && !desk.outage->state().record(step.id).readings.empty())
            return session::evaluate_call(context, step);
        return {};
    case StepKind::attach:
        return {};
    }
    return {};
}

screens::StepView step_view(Desk& desk, Step const& step, StepDraft const& draft, Evaluation const& e,
                            screens::PictureSpace space)
{
    screens::StepView v;
    v.id = step.id;
    auto const& outage = *desk.outage;
    StepRecord const& record = outage.state().record(step.id);
    fill_where(desk, step, v);
    fill_prose(desk, step, v);
    v.locked = model::locked_because(outage.checklists(), outage.state(), step, desk.words);
    auto const reading = reading_in_hand(desk, step, draft, e);
    if (v.locked.empty()) {
        switch (step.kind) {
        case StepKind::measure:
            fill_measure(desk, step, draft, e, reading.expected, v);
            break;
        case StepKind::confirm:
        case StepKind::choose:
            fill_answers(desk, step, draft, v);
            break;
        case StepKind::log:
            fill_log(desk, step, draft, v);
            break;
        case StepKind::compute:
            break;
        case StepKind::attach:
            v.fields.push_back({"value",
                                desk.words("File"),
                                draft.typed.empty() ? record.typed : draft.typed,
                                {},
                                false,
                                {},
                                {}});
            break;
        }
        fill_results(desk, step, e.result.is_null() ? record.result : e.result, v);
        fill_verdict(desk, step, draft, e, record, v);
    }
    fill_history(desk, record, v);
    fill_actions(desk, step, draft, e, v);
    bool const computed = !e.result.is_null();
    v.picture = session::step_picture(outage.context(), step, computed ? e.result : record.result,
                                      computed ? e.inputs : record.inputs, {space.width_mm, space.height_mm},
                                      desk.measure, desk.words.for_pictures(), reading);
    return v;
}

} // namespace isochore::app
