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

std::string answer_label(Step const& step, std::string const& id)
{
    for (auto const& a : step.answers)
        if (a.id == id)
            return a.label;
    return id;
}

std::string value_in(Step const& step, Json const& body)
{
    if (std::string const typed = text_member(body, "typed"); !typed.empty())
        return typed;
    if (std::string const answer = text_member(body, "answer"); !answer.empty())
        return answer_label(step, answer);
    return {};
}

std::string results_text(Step const& step, Json const& result)
{
    std::string text;
    for (auto const& f : show_results(result, step.show, {})) {
        text += (text.empty() ? "" : "; ") + f.label + " " + f.value;
        if (!f.uncertainty.empty())
            text += " " + f.uncertainty;
    }
    return text;
}

/// Every earlier value of the step, each struck through by the one that followed.
std::vector<report::Correction> corrections_of(Outage const& outage, Step const& step,
                                               StepRecord const& record)
{
    std::vector<report::Correction> list;
    Json const* before = nullptr;
    for (auto const n : record.history) {
        Json const& body = outage.bodies()[static_cast<std::size_t>(n)];
        std::string const type = text_member(body, "type");
        if (type == "undone" && before) {
            list.push_back({value_in(step, *before), text_member(body, "who"),
                            paper_time(text_member(body, "at")), "taken back"});
            before = nullptr;
        }
        if (type != "recorded")
            continue;
        if (before && !value_in(step, *before).empty() && value_in(step, *before) != value_in(step, body))
            list.push_back(
                {value_in(step, *before), text_member(body, "who"), paper_time(text_member(body, "at")), {}});
        before = &body;
    }
    return list;
}

void add_limit(Outage const& outage, Step const& step, report::StepRow& row)
{
    if (!step.limit)
        return;
    auto const side = [&](std::string const& reference) {
        return reference.empty() ? std::string()
                                 : resolve_text(outage.context(), reference).value_or("not known");
    };
    std::string const low = side(step.limit->min), high = side(step.limit->max);
    row.limit = low.empty() ? "≤ " + high : high.empty() ? "≥ " + low : low + " to " + high;
    row.limit_source = step.limit->source;
    row.limit_confirmed = step.limit->confirmed;
    for (std::string const& reference : {step.limit->min, step.limit->max})
        if (reference.starts_with("profile:"))
            if (auto const* value = outage.profile().find(std::string_view(reference).substr(8))) {
                row.limit_source = value->source;
                row.limit_confirmed = value->confirmed;
            }
}

void add_working(Json const& result, report::StepRow& row)
{
    if (!result.is_object())
        return;
    if (auto const list = result.find("working"); list != result.end() && list->is_array())
        for (auto const& w : *list)
            row.working.push_back(
                {text_member(w, "formula"), text_member(w, "numbers"), text_member(w, "source")});
    if (auto const list = result.find("budget"); list != result.end() && list->is_array())
        for (auto const& b : *list)
            row.budget.push_back(
                {label_of(text_member(b, "input")), text_member(b, "source"), number_member(b, "share")});
    if (auto const list = result.find("notes"); list != result.end() && list->is_array())
        for (auto const& n : *list)
            if (n.is_string())
                row.notes.push_back(n.get<std::string>());
}

void add_status(Outage const& outage, StepRecord const& record, report::StepRow& row)
{
    switch (record.status) {
    case StepStatus::overridden:
        row.notes.push_back(fmt::format("Overridden by {}: {}", record.override_by, record.override_reason));
        break;
    case StepStatus::deferred: {
        Step const* before = outage.checklists().step(record.defer_before);
        row.notes.push_back(
            fmt::format("Put off, owner {}{}: {}", record.defer_owner,
                        before ? ", to be closed before “" + before->title + "”" : ", after the outage",
                        record.defer_reason));
        break;
    }
    case StepStatus::not_applicable:
        row.notes.push_back("Not applicable: " + record.not_applicable_reason);
        break;
    case StepStatus::reopened:
        row.notes.push_back("Opened again: " + (record.reopened_by_move.empty()
                                                    ? "“" + record.reopened_because + "” was corrected."
                                                    : record.reopened_by_move));
        break;
    default:
        break;
    }
    if (!record.reader.empty())
        row.notes.push_back(fmt::format("Read by {}, done by {}.", record.reader, record.doer));
    if (record.entry >= 0) {
        Json const& body = outage.bodies()[static_cast<std::size_t>(record.entry)];
        if (std::string const asked = text_member(body, "asked"); !asked.empty())
            row.notes.push_back("Asked and kept: " + asked);
        if (std::string const hash = text_member(body, "file"); !hash.empty())
            row.notes.push_back("File, SHA-256 " + hash);
    }
}

/// The instrument with its calibration date, as it stood when it was read.
std::string instrument_text(Outage const& outage, Step const& step, StepRecord const& record)
{
    std::string text = step.instrument;
    if (!record.at.empty())
        for (auto const& use : instruments_of(outage.context(), step, calendar_day(record.at)))
            text += use.due.empty() ? fmt::format("; {}: no calibration date entered", use.name)
                    : use.past      ? fmt::format("; {}: PAST ITS CALIBRATION DATE, {}", use.name, use.due)
                                    : fmt::format("; {}: calibration due {}", use.name, use.due);
    return text;
}

report::StepRow step_row(Outage const& outage, Step const& step, std::string number)
{
    StepRecord const& record = outage.state().record(step.id);
    report::StepRow row;
    row.number = std::move(number);
    row.title = step.title;
    row.value = recorded_value(outage, step);
    if (record.expected.is_object())
        row.expected = text_member(record.expected, "text");
    add_limit(outage, step, row);
    row.mark = paper_mark(record.status, record.verdict);
    row.verdict = record.status == StepStatus::done && record.verdict == "none" ? "recorded"
                  : record.status == StepStatus::done                           ? record.verdict
                                                      : model::status_name(record.status);
    row.reason = in_print(record.reason + (record.remedy.empty() ? "" : " " + record.remedy));
    row.who = record.who;
    row.when = record.at.empty() ? std::string() : paper_time(record.at);
    row.instrument = instrument_text(outage, step, record);
    row.corrections = corrections_of(outage, step, record);
    add_status(outage, record, row);
    add_working(record.result, row);
    return row;
}

report::RecordTable log_table(Step const& step, StepRecord const& record)
{
    report::RecordTable table;
    table.title = step.title;
    table.heads = {"minutes"};
    table.right = {true};
    for (auto const& c : step.columns) {
        table.heads.push_back(c.label);
        table.right.push_back(true);
    }
    table.heads.push_back("time");
    table.heads.push_back("by");
    for (auto const& r : record.readings) {
        std::vector<std::string> cells{fmt::format("{:.1f}", r.t_s / 60.0)};
        cells.insert(cells.end(), r.values.begin(), r.values.end());
        cells.push_back(clock_time(r.at));
        cells.push_back(r.who);
        table.rows.push_back(std::move(cells));
    }
    return table;
}

void add_picture(Outage const& outage, Step const& step, report::RecordStage& stage)
{
    StepRecord const& record = outage.state().record(step.id);
    if (step.picture.empty() || step.kind != StepKind::compute || record.result.is_null())
        return;
    report::RecordPicture picture;
    picture.caption = step.title;
    picture.draw = [&outage, &step](double width, double height, drawing::MeasureText const& measure) {
        StepRecord const& r = outage.state().record(step.id);
        auto drawn = step_picture(outage.context(), step, r.result, r.inputs, {width, height}, measure);
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

std::string recorded_value(Outage const& outage, Step const& step)
{
    StepRecord const& record = outage.state().record(step.id);
    if (step.kind == StepKind::compute || (step.kind == StepKind::log && !record.result.is_null()))
        return results_text(step, record.result);
    if (step.kind == StepKind::log)
        return fmt::format("{} readings", record.readings.size());
    if (!record.typed.empty())
        return record.typed;
    return record.answer.empty() ? std::string() : answer_label(step, record.answer);
}

std::vector<report::RecordStage> record_stages(Outage const& outage)
{
    std::vector<report::RecordStage> stages;
    for (auto const& stage : outage.checklists().stages) {
        report::RecordStage out;
        out.number = std::to_string(stage.order);
        out.title = stage.title;
        auto const p = model::progress(outage.checklists(), outage.state(), stage);
        out.state = fmt::format("{} of {} closed{}{}{}", p.closed, p.applicable,
                                p.failed ? fmt::format(", {} failed", p.failed) : "",
                                p.undecided ? fmt::format(", {} undecided", p.undecided) : "",
                                p.deferred ? fmt::format(", {} put off", p.deferred) : "");
        int n = 0;
        for (auto const& step : stage.steps) {
            ++n;
            if (model::applies(outage.checklists(), outage.state(), step) == false)
                continue;
            out.steps.push_back(step_row(outage, step, fmt::format("{}.{}", stage.order, n)));
            StepRecord const& record = outage.state().record(step.id);
            if (step.kind == StepKind::log && !record.readings.empty())
                out.tables.push_back(log_table(step, record));
            add_picture(outage, step, out);
        }
        stages.push_back(std::move(out));
    }
    return stages;
}

} // namespace isochore::session
