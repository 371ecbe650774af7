#include "session/record_document.h"
#include "report/record_pdf.h"
#include "seal/record.h"
#include "session/display.h"
#include "session/record_kit.h"
#include "session/record_steps.h"
#include "session/sealing.h"
#include "json/member.h"
#include "json/read.h"
#include <fmt/format.h>

namespace isochore::session {

using language::Words;

namespace {

std::string fact(Outage const& outage, std::string_view name)
{
    auto const it = outage.state().facts.find(name);
    return it == outage.state().facts.end() ? std::string() : it->second;
}

void add_facts(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    auto const& profile = outage.profile();
    auto const add = [&](std::string label, std::string value) {
        if (!value.empty())
            d.facts.push_back({std::move(label), std::move(value)});
    };
    add(words("Station"), fact(outage, "station"));
    add(words("Bay"), fact(outage, "bay"));
    add(words("Breaker"), words("{}, serial {}", {profile.text("breaker.model"), fact(outage, "serial")}));
    add(words("Mechanism"), profile.text("breaker.mechanism"));
    add(words("Rated voltage"), profile.text("rating.voltage"));
    add(words("Rated interrupting time"),
        words("{} at {}", {words.sentence(profile.text("rating.interrupting_cycles")),
                           profile.text("rating.frequency")}));
    add(words("Filling at 20 °C"), profile.text("gas.nominal"));
    add(words("Profile"),
        words("{} revision {}, {}", {profile.id, std::to_string(profile.revision), words(profile.status)}));
    add(words("Its release"), words.sentence(fact(outage, "release")));
    add(words("Job number"), fact(outage, "job_no"));
    add(words("Window"), fact(outage, "window"));
    add(words("Begun"), paper_time(outage.state().created_at));
    std::string crew;
    for (auto const& name : outage.state().crew)
        crew += (crew.empty() ? "" : ", ") + name;
    add(words("Crew"), crew);
    for (auto const* id : {"settings.unit_serial", "settings.sensor_serial"})
        if (auto const* step = outage.checklists().step(id))
            add(words.title(*step), outage.state().record(id).typed);
}

/// Steps whose verdict came from a limit: what a supervisor looks at first.
void add_summary(report::RecordDocument& d)
{
    for (auto const& stage : d.stages)
        for (auto const& row : stage.steps) {
            bool const judged = row.mark == drawing::Mark::fail || row.mark == drawing::Mark::undecided ||
                                !row.limit.empty() ||
                                (row.mark == drawing::Mark::pass && !row.working.empty());
            if (judged)
                d.summary.push_back({row.mark, row.title, row.value, row.limit, row.reason});
        }
}

/// A release that was taken although nobody signed it, or although a newer one was withdrawn.
void add_accepted_release(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    std::string const what = fact(outage, "release_accepted");
    if (what.empty())
        return;
    report::Deviation out;
    out.mark = drawing::Mark::undecided;
    out.step = words("Breaker profile");
    out.what = words.sentence(what);
    out.why = fact(outage, "release_accepted_why");
    out.who = fact(outage, "release_accepted_by");
    out.when = paper_time(outage.state().created_at);
    d.deviations.push_back(std::move(out));
}

void add_deviations(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    add_accepted_release(outage, words, d);
    for (auto const& deviation : model::deviations(outage.checklists(), outage.state())) {
        auto const& record = outage.state().record(deviation.step->id);
        report::Deviation out;
        out.mark = paper_mark(deviation.status, record.verdict);
        out.step = words.title(*deviation.step);
        out.what = words(model::status_name(deviation.status));
        if (!record.reason.empty())
            out.what += ": " + words.reason(*deviation.step, record.reason);
        out.why = deviation.status == model::StepStatus::overridden ? record.override_reason
                  : deviation.status == model::StepStatus::deferred ? record.defer_reason
                                                                    : words.sentence(deviation.text);
        out.who = deviation.status == model::StepStatus::overridden ? record.override_by : record.who;
        out.when = record.at.empty() ? std::string() : paper_time(record.at);
        out.owner = record.defer_owner;
        d.deviations.push_back(std::move(out));
    }
    for (auto& past : past_instrument_deviations(outage, words))
        d.deviations.push_back(std::move(past));
}

void add_kit(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    for (auto& table : {kit_table(outage, words), parts_table(outage, words)})
        if (!table.rows.empty())
            d.ledgers.push_back(table);
}

std::vector<std::vector<drawing::Point>> strokes_of(std::string const& text)
{
    std::vector<std::vector<drawing::Point>> strokes;
    auto const json = read_json(text.empty() ? "[]" : text, "signature");
    if (!json || !json->is_array())
        return strokes;
    for (auto const& line : *json) {
        std::vector<drawing::Point> points;
        if (line.is_array())
            for (auto const& p : line)
                if (p.is_array() && p.size() == 2 && p[0].is_number() && p[1].is_number())
                    points.push_back({p[0].get<double>(), p[1].get<double>()});
        strokes.push_back(std::move(points));
    }
    return strokes;
}

void add_signatures(Outage const& outage, std::string_view fingerprint, Words const& words,
                    report::RecordDocument& d)
{
    for (auto const& s : outage.state().signatures)
        d.signatures.push_back({s.who, words(s.role), paper_time(s.at), words(s.meaning),
                                words("tablet key {}", {std::string(fingerprint)}), strokes_of(s.strokes)});
}

void add_gas_ledger(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    Json const& account = outage.state().record("fill.account").result;
    if (account.is_null())
        return;
    report::RecordTable table;
    table.title = words("Gas ledger");
    table.heads = {words("what"), words("amount"), words("uncertainty (95 %)")};
    table.right = {false, true, true};
    for (auto const& f : show_results(account, {}, {}))
        table.rows.push_back({words(f.label), words(f.value), f.uncertainty});
    d.ledgers.push_back(std::move(table));
}

void add_stick(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    auto const& stick = outage.state().stick;
    if (!stick)
        return;
    report::RecordTable table;
    table.title = words("Settings written to the stick");
    table.heads = {words("set"), words("file"), words("written"), words("by")};
    for (auto const& file : stick->files)
        table.rows.push_back({stick->set, file, paper_time(stick->at), stick->who});
    d.ledgers.push_back(std::move(table));
}

/// The comparison as it was recorded, field by field, what differs first.
void add_read_back(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps) {
            Json const& result = outage.state().record(step.id).result;
            if (step.compare.empty() || !result.is_object() || !result.contains("rows"))
                continue;
            report::RecordTable table;
            table.title = words("Settings read back from the unit");
            table.heads = {words("field"), words("loaded"), words("read back"), words("outcome")};
            for (bool const same : {false, true})
                for (auto const& row : result["rows"]) {
                    std::string const state = text_member(row, "state"), label = text_member(row, "label");
                    if (state != "not shown" && (state == "same") == same)
                        table.rows.push_back({words(label), words.sentence(text_member(row, "expected")),
                                              words.sentence(text_member(row, "shown")), words(state)});
                }
            d.ledgers.push_back(std::move(table));
        }
}

/// Which revisions the outage followed, and what each move changed.
void add_moves(Outage const& outage, Words const& words, report::RecordDocument& d)
{
    for (auto const& move : outage.state().moves) {
        report::RecordTable table;
        table.title = words("Moved from {} to {}", {move.from, move.to});
        table.heads = {words("what changed")};
        for (auto const& line : move.changes)
            table.rows.push_back({words.sentence(line)});
        table.closing =
            words("Confirmed by {} on {}, entered by {}.", {move.by, paper_time(move.at), move.who});
        d.ledgers.push_back(std::move(table));
    }
}

drawing::LineStage line_stage(Outage const& outage, model::Stage const& stage, Words const& words)
{
    drawing::LineStage s;
    s.label = words.brief(stage);
    s.closed = model::progress(outage.checklists(), outage.state(), stage).complete();
    return s;
}

} // namespace

Result<std::string> record_pdf_of(Outage const& outage, std::string_view record_hash,
                                  std::string_view public_key, std::string_view fingerprint,
                                  Words const& words)
{
    auto const& state = outage.state();
    report::RecordDocument d;
    d.translate = words.for_pictures();
    d.title = words("Commissioning record");
    d.subtitle = words("Condition-monitoring unit fitted to SF6 circuit breaker {}",
                       {outage.profile().text("breaker.model")});
    d.created = state.last_at;
    d.author = state.crew.empty() ? std::string() : state.crew.front();
    d.draft = record_hash.empty();
    d.invented = outage.profile().invented;
    d.block = {fact(outage, "station"),
               fact(outage, "bay"),
               fact(outage, "breaker"),
               fact(outage, "job_no"),
               outage.job(),
               words("{} entries", {std::to_string(state.entries)}),
               {}};
    for (auto const& stage : outage.checklists().stages)
        d.line.push_back(line_stage(outage, stage, words));
    add_facts(outage, words, d);
    d.stages = record_stages(outage, words);
    add_summary(d);
    add_deviations(outage, words, d);
    add_signatures(outage, fingerprint, words, d);
    add_gas_ledger(outage, words, d);
    add_kit(outage, words, d);
    add_stick(outage, words, d);
    add_read_back(outage, words, d);
    add_moves(outage, words, d);
    for (auto const& remark : state.remarks)
        d.done.push_back(remark);
    d.hash = record_hash;
    d.hash_label = words("SHA-256 of the sealed record");
    // "In English" is itself turned: the sheets name the language they are in.
    d.footer = words("These sheets are in English; the sealed record is the same in every language.") + " " +
               words(seal::record_footer) + " " + words("Key {}.", {std::string(public_key.substr(0, 16))});
    return report::record_pdf(d);
}

} // namespace isochore::session
