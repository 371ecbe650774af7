#include "session/record_steps.h"
#include "session/calibration.h"
#include "session/display.h"
#include "session/step_picture.h"
#include "json/member.h"
#include <fmt/format.h>

namespace isochore::session {

using model::Step;
using model::StepKind;
using model::StepRecord;
using model::StepStatus;

namespace {

using language::Words;

std::string answer_label(Step const& step, std::string const& id, Words const& words)
{
    for (auto const& a : step.answers)
        if (a.id == id)
            return words.answer(step, a);
    return id;
}

/// Units that are words are said in the language; what a person wrote stays.
std::string typed_in_words(Step const& step, std::string const& typed, Words const& words)
{
    return step.kind == StepKind::measure && !step.free_text ? words.sentence(typed) : typed;
}

std::string value_in(Step const& step, Json const& body, Words const& words)
{
    if (std::string const typed = text_member(body, "typed"); !typed.empty())
        return typed_in_words(step, typed, words);
    if (std::string const answer = text_member(body, "answer"); !answer.empty())
        return answer_label(step, answer, words);
    return {};
}

std::string results_text(Step const& step, Json const& result, Words const& words)
{
    std::string text;
    for (auto const& f : show_results(result, step.show, {})) {
        text += (text.empty() ? "" : "; ") + words(f.label) + " " + words(f.value);
        if (!f.uncertainty.empty())
            text += " " + f.uncertainty;
    }
    return text;
}

/// Every earlier value of the step, each struck through by the one that followed.
std::vector<report::Correction> corrections_of(Outage const& outage, Step const& step,
                                               StepRecord const& record, Words const& words)
{
    auto const value = [&](Json const& body) { return value_in(step, body, words); };
    std::vector<report::Correction> list;
    Json const* before = nullptr;
    for (auto const n : record.history) {
        Json const& body = outage.bodies()[static_cast<std::size_t>(n)];
        std::string const type = text_member(body, "type");
        if (type == "undone" && before) {
            list.push_back({value(*before), text_member(body, "who"), paper_time(text_member(body, "at")),
                            words("taken back")});
            before = nullptr;
        }
        if (type != "recorded")
            continue;
        if (before && !value(*before).empty() && value(*before) != value(body))
            list.push_back(
                {value(*before), text_member(body, "who"), paper_time(text_member(body, "at")), {}});
        before = &body;
    }
    return list;
}

void add_limit(Outage const& outage, Step const& step, Words const& words, report::StepRow& row)
{
    if (!step.limit)
        return;
    auto const side = [&](std::string const& reference) {
        auto const known = resolve_text(outage.context(), reference);
        return reference.empty() ? std::string() : known ? words.sentence(*known) : words("not known");
    };
    std::string const low = side(step.limit->min), high = side(step.limit->max);
    row.limit = low.empty() ? "≤ " + high : high.empty() ? "≥ " + low : words("{} to {}", {low, high});
    row.limit_source = words.source(step.limit->source);
    row.limit_confirmed = step.limit->confirmed;
    for (std::string const& reference : {step.limit->min, step.limit->max})
        if (reference.starts_with("profile:"))
            if (auto const* value = outage.profile().find(std::string_view(reference).substr(8))) {
                row.limit_source = words.source(value->source);
                row.limit_confirmed = value->confirmed;
            }
}

void add_working(Json const& result, Words const& words, report::StepRow& row)
{
    if (!result.is_object())
        return;
    if (auto const list = result.find("working"); list != result.end() && list->is_array())
        for (auto const& w : *list)
            row.working.push_back({words.sentence(text_member(w, "formula")),
                                   words.sentence(text_member(w, "numbers")),
                                   words.sentence(text_member(w, "source"))});
    if (auto const list = result.find("budget"); list != result.end() && list->is_array())
        for (auto const& b : *list)
            row.budget.push_back({words.sentence(label_of(text_member(b, "input"))),
                                  words.sentence(text_member(b, "source")), number_member(b, "share")});
    if (auto const list = result.find("notes"); list != result.end() && list->is_array())
        for (auto const& n : *list)
            if (n.is_string())
                row.notes.push_back(words.sentence(n.get<std::string>()));
}

void add_status(Outage const& outage, StepRecord const& record, Words const& words, report::StepRow& row)
{
    auto const& checklists = outage.checklists();
    switch (record.status) {
    case StepStatus::overridden:
        row.notes.push_back(words("Overridden by {}: {}", {record.override_by, record.override_reason}));
        break;
    case StepStatus::deferred: {
        Step const* before = checklists.step(record.defer_before);
        row.notes.push_back(before ? words("Put off, owner {}, to be closed before “{}”: {}",
                                           {record.defer_owner, words.title(*before), record.defer_reason})
                                   : words("Put off, owner {}, after the outage: {}",
                                           {record.defer_owner, record.defer_reason}));
        break;
    }
    case StepStatus::not_applicable:
        row.notes.push_back(words("Not applicable: {}", {record.not_applicable_reason}));
        break;
    case StepStatus::reopened:
        row.notes.push_back(record.reopened_by_move.empty()
                                ? words("Opened again: “{}” was corrected.",
                                        {words.title_of(checklists, record.reopened_because)})
                                : words("Opened again: {}", {words.sentence(record.reopened_by_move)}));
        break;
    default:
        break;
    }
    if (!record.reader.empty())
        row.notes.push_back(words("Read by {}, done by {}.", {record.reader, record.doer}));
    if (record.entry >= 0) {
        Json const& body = outage.bodies()[static_cast<std::size_t>(record.entry)];
        if (std::string const asked = text_member(body, "asked"); !asked.empty())
            row.notes.push_back(words("Asked and kept: {}", {words.sentence(asked)}));
        if (std::string const hash = text_member(body, "file"); !hash.empty())
            row.notes.push_back(words("File, SHA-256 {}", {hash}));
    }
}

/// The instrument with its calibration date, as it stood when it was read.
std::string instrument_text(Outage const& outage, Step const& step, StepRecord const& record,
                            Words const& words)
{
    std::string text = words.sentence(step.instrument);
    if (!record.at.empty())
        for (auto const& use : instruments_of(outage.context(), step, calendar_day(record.at)))
            text +=
                use.due.empty() ? "; " + words("{}: no calibration date entered", {words.sentence(use.name)})
                : use.past
                    ? "; " + words("{}: PAST ITS CALIBRATION DATE, {}", {words.sentence(use.name), use.due})
                    : "; " + words("{}: calibration due {}", {words.sentence(use.name), use.due});
    return text;
}

std::string stage_state(model::StageProgress const& p, Words const& words)
{
    std::string state = words("{} of {} closed", {std::to_string(p.closed), std::to_string(p.applicable)});
    auto const add = [&](int count, char const* english) {
        if (count)
            state += ", " + words(english, {std::to_string(count)});
    };
    add(p.failed, language::said("{} failed"));
    add(p.undecided, language::said("{} undecided"));
    add(p.deferred, language::said("{} put off"));
    return state;
}

report::StepRow step_row(Outage const& outage, Step const& step, std::string number, Words const& words)
{
    StepRecord const& record = outage.state().record(step.id);
    report::StepRow row;
    row.number = std::move(number);
    row.title = words.title(step);
    row.value = recorded_value(outage, step, words);
    if (record.expected.is_object())
        row.expected = words.sentence(text_member(record.expected, "text"));
    add_limit(outage, step, words, row);
    row.mark = paper_mark(record.status, record.verdict);
    row.verdict = record.status != StepStatus::done ? words(model::status_name(record.status))
                  : record.verdict == "none"        ? words("recorded")
                                                    : words(record.verdict);
    row.reason = in_print(words.reason(step, record.reason) +
                          (record.remedy.empty() ? "" : " " + words.sentence(record.remedy)));
    row.who = record.who;
    row.when = record.at.empty() ? std::string() : paper_time(record.at);
    row.instrument = instrument_text(outage, step, record, words);
    row.corrections = corrections_of(outage, step, record, words);
    add_status(outage, record, words, row);
    add_working(record.result, words, row);
    return row;
}

report::RecordTable log_table(Step const& step, StepRecord const& record, Words const& words)
{
    report::RecordTable table;
    table.title = words.title(step);
    table.heads = {words("minutes")};
    table.right = {true};
    for (auto const& c : step.columns) {
        table.heads.push_back(words(c.label));
        table.right.push_back(true);
    }
    table.heads.push_back(words("time"));
    table.heads.push_back(words("by"));
    for (auto const& r : record.readings) {
        std::vector<std::string> cells{fmt::format("{:.1f}", r.t_s / 60.0)};
        cells.insert(cells.end(), r.values.begin(), r.values.end());
        cells.push_back(clock_time(r.at));
        cells.push_back(r.who);
        table.rows.push_back(std::move(cells));
    }
    for (auto const& s : record.set_aside)
        table.closing += (table.closing.empty() ? "" : " ") +
                         words("Series set aside at {} by {}, {} readings: {}.",
                               {clock_time(s.at), s.who, std::to_string(s.readings), s.reason});
    return table;
}

void add_picture(Outage const& outage, Step const& step, Words const& words, report::RecordStage& stage)
{
    StepRecord const& record = outage.state().record(step.id);
    if (step.picture.empty() || step.kind != StepKind::compute || record.result.is_null())
        return;
    report::RecordPicture picture;
    picture.caption = words.title(step);
    picture.draw = [&outage, &step, &words](double width, double height,
                                            drawing::MeasureText const& measure) {
        StepRecord const& r = outage.state().record(step.id);
        auto drawn = step_picture(outage.context(), step, r.result, r.inputs, {width, height}, measure,
                                  words.for_pictures());
        drawing::Picture empty;
        empty.width = width;
        empty.height = height;
        return drawn ? std::move(*drawn) : empty;
    };
    // A picture that has nothing to show yet leaves no hole in the record.
    auto const rough = [](std::string_view text, drawing::Face, double size) {
        return 0.6 * size * static_cast<double>(text.size());
    };
    if (step_picture(outage.context(), step, record.result, record.inputs, {110.0, 75.0}, rough))
        stage.pictures.push_back(std::move(picture));
}

} // namespace

drawing::Mark paper_mark(StepStatus status, std::string_view verdict)
{
    using drawing::Mark;
    switch (status) {
    case StepStatus::done:
        return verdict == "pass" ? Mark::pass : verdict == "undecided" ? Mark::undecided : Mark::recorded;
    case StepStatus::failed:
        return Mark::fail;
    case StepStatus::undecided:
    case StepStatus::reopened:
        return Mark::undecided;
    case StepStatus::deferred:
        return Mark::deferred;
    case StepStatus::overridden:
        return Mark::overridden;
    default:
        return Mark::none;
    }
}

std::string paper_time(std::string const& stamp)
{
    if (stamp.size() < 25)
        return stamp;
    return calendar_day(stamp) + " " + clock_time(stamp) + " " + stamp.substr(19);
}

std::string recorded_value(Outage const& outage, Step const& step, Words const& words)
{
    StepRecord const& record = outage.state().record(step.id);
    if (step.kind == StepKind::compute || (step.kind == StepKind::log && !record.result.is_null()))
        return results_text(step, record.result, words);
    if (step.kind == StepKind::log)
        return words("{} readings", {std::to_string(record.readings.size())});
    if (!record.typed.empty())
        return typed_in_words(step, record.typed, words);
    return record.answer.empty() ? std::string() : answer_label(step, record.answer, words);
}

std::vector<report::RecordStage> record_stages(Outage const& outage, Words const& words)
{
    std::vector<report::RecordStage> stages;
    for (auto const& stage : outage.checklists().stages) {
        report::RecordStage out;
        out.number = std::to_string(stage.order);
        out.title = words.title(stage);
        auto const p = model::progress(outage.checklists(), outage.state(), stage);
        out.state = stage_state(p, words);
        int n = 0;
        for (auto const& step : stage.steps) {
            ++n;
            if (model::applies(outage.checklists(), outage.state(), step) == false)
                continue;
            out.steps.push_back(step_row(outage, step, fmt::format("{}.{}", stage.order, n), words));
            StepRecord const& record = outage.state().record(step.id);
            if (step.kind == StepKind::log && !(record.readings.empty() && record.set_aside.empty()))
                out.tables.push_back(log_table(step, record, words));
            add_picture(outage, step, words, out);
        }
        stages.push_back(std::move(out));
    }
    return stages;
}

} // namespace isochore::session
