#include "session/outage.h"
#include "calc/usual.h"
#include "session/outage_parts.h"
#include "session/read_back.h"
#include "json/member.h"
#include "json/read.h"
#include "quantity/near_names.h"
#include <algorithm>
#include <cctype>
#include <cmath>
#include <fmt/format.h>
#include <set>

namespace isochore::session {

using Code = Error::Code;
using model::Step;
using model::StepKind;

namespace {

/// After a longer break the plant may have changed: the last physical step is looked at again.
double long_break_s()
{
    return calc::usual_si("outage", "long_break", Dimension::time);
}

/// Wall clocks drift and are corrected by seconds; more is a person or a network setting it.
double clock_jump_s()
{
    return calc::usual_si("outage", "clock_jump", Dimension::time);
}

Error problem(Step const& step, Evaluation const& evaluation)
{
    return {Code::invalid_input, step.title, evaluation.problem};
}

} // namespace

Outage::Outage(journal::Journal& journal, Clock& clock, std::string job, std::vector<Pinned> revisions,
               std::string who)
    : m_journal(journal), m_clock(clock), m_job(std::move(job)), m_who(std::move(who)), m_replay({})
{
    for (auto& revision : revisions) {
        m_revisions.push_back(std::make_unique<Pinned>(std::move(revision)));
        m_replay.add_revision(m_revisions.back()->checklists);
    }
}

Result<std::unique_ptr<Outage>> Outage::open(journal::Journal& journal, Clock& clock, std::string job,
                                             model::Checklists checklists, model::Profile profile,
                                             std::string who)
{
    std::vector<Pinned> revisions;
    revisions.push_back({std::move(checklists), std::move(profile), {}});
    return open(journal, clock, std::move(job), std::move(revisions), std::move(who));
}

Result<std::unique_ptr<Outage>> Outage::open(journal::Journal& journal, Clock& clock, std::string job,
                                             std::vector<Pinned> revisions, std::string who)
{
    if (revisions.empty())
        return fail(Code::corrupt, job, "this outage names no checklists");
    std::unique_ptr<Outage> outage(
        new Outage(journal, clock, std::move(job), std::move(revisions), std::move(who)));
    if (auto loaded = outage->load(); !loaded)
        return tl::unexpected(loaded.error());
    return outage;
}

Result<void> Outage::load()
{
    if (auto intact = m_journal.verify(m_job); !intact)
        return intact;
    auto const entries = m_journal.entries(m_job);
    if (!entries)
        return tl::unexpected(entries.error());
    if (entries->empty())
        return fail(Code::not_found, m_job, "this outage has no entries");
    for (auto const& entry : *entries)
        m_bodies.push_back(entry.json());
    m_head = entries->back().hash;
    m_replay.follow(m_bodies);
    m_replay.set_head(m_job, m_head);
    if (m_who.empty())
        m_who = state().entering;
    return {};
}

Result<void> Outage::hand_over(std::string const& to)
{
    if (to.find_first_not_of(' ') == std::string::npos)
        return fail(Code::missing_input, m_job, "name the person who has the tablet now");
    std::string const from = m_who;
    m_who = to;
    auto done = note({{"type", "remark"},
                      {"text", fmt::format("The tablet went from {} to {}.", from, to)},
                      {"from", from},
                      {"to", to}});
    if (!done)
        m_who = from;
    return done;
}

Result<void> Outage::watch_clock()
{
    Json const& last = m_bodies.back();
    Now const now = m_clock.now();
    std::int64_t const before = stamp_ms(text_member(last, "at"));
    std::int64_t const wall = now.utc_ms - before;
    std::string text;
    bool const same_run = text_member(last, "run") == now.run;
    double const jump = static_cast<double>(wall) / 1000.0 - (now.mono_s - number_member(last, "mono_s"));
    if (same_run && std::fabs(jump) > clock_jump_s())
        text = fmt::format("The tablet's clock was set {} by {:.0f} s since the last entry.",
                           jump < 0 ? "back" : "forward", std::fabs(jump));
    else if (!same_run && wall < -1000)
        text = fmt::format("The tablet's clock is {:.0f} s behind the last entry: it was set back.",
                           static_cast<double>(-wall) / 1000.0);
    return text.empty() ? Result<void>{} : write({{"type", "clock"}, {"text", text}});
}

Result<void> Outage::write(Json body)
{
    Now const now = m_clock.now();
    body["at"] = stamp(now);
    body["who"] = m_who;
    body["mono_s"] = now.mono_s;
    body["run"] = now.run;
    // The list of outages reads an outage's last entry only: it says how the outage stands.
    if (state().sealed)
        body["sealed"] = true;
    if (state().archived && !body.contains("archived"))
        body["archived"] = true;
    auto entry = m_journal.append(m_job, std::move(body));
    if (!entry)
        return tl::unexpected(entry.error());
    m_bodies.push_back(entry->json());
    m_head = entry->hash;
    return {};
}

Result<void> Outage::append(Json body)
{
    if (auto watched = watch_clock(); !watched)
        return watched;
    if (auto written = write(std::move(body)); !written)
        return written;
    m_replay.follow(m_bodies);
    m_replay.set_head(m_job, m_head);
    return {};
}

Result<void> Outage::not_closed() const
{
    if (state().archived)
        return fail(Code::denied, m_job,
                    "this outage is archived: take it out of the archive before anything is entered");
    if (state().sealed)
        return fail(Code::denied, m_job, "the record is sealed: nothing can be added to this outage");
    return {};
}

Result<Step const*> known_step(model::Checklists const& checklists, std::string_view id)
{
    if (Step const* step = checklists.step(id))
        return step;
    std::vector<std::string> ids;
    for (auto const& stage : checklists.stages)
        for (auto const& step : stage.steps)
            ids.push_back(step.id);
    return fail(Code::unknown, std::string(id), "there is no such step" + near_it(id, ids));
}

std::string Outage::why_closed() const
{
    if (auto const open = not_closed(); !open)
        return open.error().detail;
    return m_journal.why_read_only();
}

Result<Step const*> Outage::writable(std::string_view id) const
{
    auto const known = known_step(checklists(), id);
    if (!known)
        return tl::unexpected(known.error());
    Step const* step = *known;
    if (auto const open = not_closed(); !open)
        return tl::unexpected(open.error());
    if (model::applies(checklists(), state(), *step) == false)
        return fail(Code::denied, step->title, "this step belongs to a branch that was not chosen");
    if (std::string const locked = model::locked_because(checklists(), state(), *step); !locked.empty())
        return fail(Code::denied, step->title, locked);
    return step;
}

Json Outage::recorded_body(Step const& step, Evaluation const& e) const
{
    Json body{{"type", "recorded"}, {"step", step.id}, {"verdict", e.verdict}};
    if (!e.reason.empty())
        body["reason"] = e.reason;
    if (!e.remedy.empty())
        body["remedy"] = e.remedy;
    if (!e.rule.empty())
        body["rule"] = e.rule;
    if (!e.result.is_null()) {
        body["result"] = e.result;
        body["inputs"] = e.inputs;
        if (step.call)
            body["calc"] = step.call->calc;
    }
    if (e.amount)
        body["parsed"] = {{"si", e.amount->si}, {"unit", si_unit(e.amount->dimension).name}};
    if (e.prediction)
        body["expected"] = to_json(*e.prediction);
    if (!e.question.empty())
        body["asked"] = e.question;
    return body;
}

Result<Evaluation> Outage::record_value(std::string_view id, std::string_view typed, bool confirmed_question)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    if ((*step)->kind != StepKind::measure)
        return fail(Code::invalid_input, (*step)->title, "this step takes no typed value");
    Evaluation e = evaluate_value(context(), **step, typed);
    if (!e.ok())
        return tl::unexpected(problem(**step, e));
    if (!e.question.empty() && !confirmed_question)
        return fail(Code::invalid_input, (*step)->title, e.question);
    Json body = recorded_body(**step, e);
    body["typed"] = typed;
    if (auto done = append(std::move(body)); !done)
        return tl::unexpected(done.error());
    return e;
}

Result<Evaluation> Outage::record_answer(std::string_view id, std::string_view answer,
                                         std::string_view reader, std::string_view doer)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    if ((*step)->kind != StepKind::confirm && (*step)->kind != StepKind::choose)
        return fail(Code::invalid_input, (*step)->title, "this step is not answered by a choice");
    if (!(*step)->compare.empty())
        return fail(Code::denied, (*step)->title,
                    "the answer is found by comparing: enter what the unit shows, or bring its stick");
    Evaluation e = evaluate_answer(context(), **step, answer);
    if (!e.ok())
        return tl::unexpected(problem(**step, e));
    std::string const seen = e.echo;
    return record_seen(**step, std::move(e), answer, seen, reader, doer);
}

Result<Evaluation> Outage::record_seen(Step const& step, Evaluation e, std::string_view answer,
                                       std::string_view seen, std::string_view reader, std::string_view doer)
{
    if (step.challenge && (reader.empty() || doer.empty()))
        return fail(Code::missing_input, step.title,
                    "this step is read by one person and done by another: name both");
    if (auto taken = take_used_parts(*this, step, answer); !taken)
        return tl::unexpected(taken.error());
    Json body = recorded_body(step, e);
    body["seen"] = seen;
    for (auto const& [name, text] : {std::pair{"answer", answer}, {"reader", reader}, {"doer", doer}})
        if (!text.empty())
            body[name] = text;
    if (auto done = append(std::move(body)); !done)
        return tl::unexpected(done.error());
    return e;
}

Result<void> Outage::add_shown(std::string_view id,
                               std::map<std::string, std::string, std::less<>> const& values,
                               std::string_view file, bool restart)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    if ((*step)->compare.empty())
        return fail(Code::invalid_input, (*step)->title, "this step compares nothing");
    if (values.empty())
        return fail(Code::missing_input, (*step)->title, "there is no value to note");
    Json body{{"type", "shown"}, {"step", id}, {"values", Json::object()}};
    for (auto const& [path, text] : values)
        body["values"][path] = text;
    if (!file.empty())
        body["file"] = file;
    if (restart)
        body["restart"] = true;
    return append(std::move(body));
}

Result<Evaluation> Outage::record_comparison(std::string_view id, std::string_view reader,
                                             std::string_view doer)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    if ((*step)->compare.empty())
        return fail(Code::invalid_input, (*step)->title, "this step compares nothing");
    if (state().record(id).shown.empty())
        return fail(Code::missing_input, (*step)->title, "nothing has been read from the unit yet");
    ReadBack compared = compare_with_unit(*this, **step);
    std::string const seen = compared.evaluation.reason;
    return record_seen(**step, std::move(compared.evaluation), compared.answer, seen, reader, doer);
}

Result<Evaluation> Outage::record_call(std::string_view id)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    if ((*step)->kind != StepKind::compute && (*step)->kind != StepKind::log)
        return fail(Code::invalid_input, (*step)->title, "this step has nothing to compute");
    if ((*step)->kind == StepKind::log && state().record(id).readings.empty())
        return fail(Code::missing_input, (*step)->title, "no reading has been taken yet");
    Evaluation e = evaluate_call(context(), **step);
    if (!e.ok())
        return tl::unexpected(problem(**step, e));
    if (auto taken = take_used_parts(*this, **step, {}); !taken)
        return tl::unexpected(taken.error());
    if (auto done = append(recorded_body(**step, e)); !done)
        return tl::unexpected(done.error());
    return e;
}

Result<void> Outage::record_attachment(std::string_view id, std::string_view name, std::string_view hash)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    return append({{"type", "recorded"}, {"step", id}, {"typed", name}, {"file", hash}, {"verdict", "none"}});
}

double Outage::log_seconds(std::string_view id) const
{
    auto const& readings = state().record(id).readings;
    if (readings.empty())
        return 0.0;
    // The monotonic clock rules within one run; across runs only the wall clock is left.
    Json const& first = m_bodies[static_cast<std::size_t>(readings.front().entry)];
    Now const now = m_clock.now();
    double const start = readings.front().t_s;
    if (text_member(first, "run") == now.run)
        return start + now.mono_s - number_member(first, "mono_s", now.mono_s);
    return start + static_cast<double>(now.utc_ms - stamp_ms(readings.front().at)) / 1000.0;
}

Result<Evaluation> Outage::add_reading(std::string_view id, std::vector<std::string> const& typed,
                                       bool confirmed_question, std::optional<double> at_s)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    if ((*step)->kind != StepKind::log)
        return fail(Code::invalid_input, (*step)->title, "this step keeps no log");
    Evaluation e = evaluate_reading(context(), **step, typed);
    if (!e.ok())
        return tl::unexpected(problem(**step, e));
    if (!e.question.empty() && !confirmed_question)
        return fail(Code::invalid_input, (*step)->title, e.question);
    double const t = at_s ? *at_s : log_seconds(id);
    auto const& readings = state().record(id).readings;
    if (!readings.empty() && t <= readings.back().t_s)
        return fail(Code::invalid_input, (*step)->title, "a reading must be later than the one before it");
    Json body{{"type", "reading"}, {"step", id}, {"t_s", std::round(t * 1000.0) / 1000.0}, {"values", typed}};
    if (!e.question.empty())
        body["asked"] = e.question;
    if (auto done = append(std::move(body)); !done)
        return tl::unexpected(done.error());
    return e;
}

Result<void> Outage::begin_new_series(std::string_view id, std::string_view reason)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    if ((*step)->kind != StepKind::log)
        return fail(Code::invalid_input, (*step)->title, "this step keeps no log");
    if (state().record(id).readings.empty())
        return fail(Code::missing_input, (*step)->title, "no reading has been taken yet");
    if (reason.find_first_not_of(' ') == std::string_view::npos)
        return fail(Code::missing_input, (*step)->title, "say what disturbed the series so far");
    return append({{"type", "series_anew"}, {"step", id}, {"reason", reason}});
}

Result<void> Outage::defer(std::string_view id, std::string_view reason, std::string_view owner,
                           std::string_view before)
{
    auto const known = known_step(checklists(), id);
    if (!known)
        return tl::unexpected(known.error());
    Step const* step = *known;
    if (auto const open = not_closed(); !open)
        return open;
    if (!step->may_defer || step->hold)
        return fail(Code::denied, step->title, "a hold point cannot be put off: close it before going on");
    if (reason.empty() || owner.empty())
        return fail(Code::missing_input, step->title, "say why it is put off and who closes it");
    if (before.empty()) {
        Step const* proposed = model::proposed_wait(checklists(), state(), *step);
        before = proposed ? std::string_view(proposed->id) : model::after_outage;
    }
    if (before != model::after_outage) {
        auto const named = known_step(checklists(), before);
        if (!named)
            return tl::unexpected(named.error());
        Step const* waits = *named;
        auto const later = model::may_wait_until(checklists(), state(), *step);
        if (std::find(later.begin(), later.end(), waits) == later.end())
            return fail(Code::invalid_input, waits->title,
                        "this step does not come later: name one that does, or after_outage");
    }
    return append(
        {{"type", "deferred"}, {"step", id}, {"reason", reason}, {"owner", owner}, {"before", before}});
}

Result<void> Outage::override_step(std::string_view id, std::string_view reason, std::string_view by,
                                   bool pin_checked)
{
    auto const step = writable(id);
    if (!step)
        return tl::unexpected(step.error());
    model::StepStatus const status = state().record(id).status;
    if (status != model::StepStatus::failed && status != model::StepStatus::undecided)
        return fail(Code::denied, (*step)->title, "only a failed or undecided step can be overridden");
    if ((*step)->may_override == model::OverridePolicy::never)
        return fail(Code::denied, (*step)->title,
                    "this step cannot be overridden: mend the cause and record it again");
    if ((*step)->may_override == model::OverridePolicy::reason_and_pin && !pin_checked)
        return fail(Code::denied, (*step)->title, "overriding this step needs a person's PIN");
    if (reason.empty() || by.empty())
        return fail(Code::missing_input, (*step)->title, "say why, and who decides it");
    return append(
        {{"type", "overridden"}, {"step", id}, {"reason", reason}, {"by", by}, {"pin", pin_checked}});
}

Result<void> Outage::not_applicable(std::string_view id, std::string_view reason)
{
    auto const known = known_step(checklists(), id);
    if (!known)
        return tl::unexpected(known.error());
    Step const* step = *known;
    if (auto const open = not_closed(); !open)
        return open;
    if (model::applies(checklists(), state(), *step) == false)
        return fail(Code::denied, step->title, "this step belongs to a branch that was not chosen");
    if (model::always_applies(checklists(), *step))
        return fail(Code::denied, step->title, "this step always applies");
    if (model::is_closed(state().record(id).status))
        return fail(Code::denied, step->title, "it is closed: take that back or correct it first");
    if (reason.empty())
        return fail(Code::missing_input, step->title, "say why it does not apply");
    return append({{"type", "not_applicable"}, {"step", id}, {"reason", reason}});
}

Json const* Outage::to_take_back() const
{
    std::set<std::int64_t> undone;
    for (auto it = m_bodies.rbegin(); it != m_bodies.rend(); ++it) {
        std::string const type = text_member(*it, "type");
        if (type == "undone")
            undone.insert(static_cast<std::int64_t>(number_member(*it, "undoes", -1.0)));
        if (type == "signed" || type == "stick_written" || type == "sealed" || type == "moved")
            return nullptr;
        bool const about_step = type == "recorded" || type == "reading" || type == "deferred" ||
                                type == "overridden" || type == "not_applicable" || type == "shown" ||
                                type == "series_anew";
        if (about_step && !undone.contains(m_bodies.rend() - it - 1))
            return &*it;
    }
    return nullptr;
}

Result<std::string> Outage::undo()
{
    if (auto const open = not_closed(); !open)
        return tl::unexpected(open.error());
    Json const* last = to_take_back();
    if (!last)
        return fail(Code::not_found, "undo", "there is nothing to take back");
    std::string what = describe(*last);
    auto done = append(
        {{"type", "undone"}, {"step", text_member(*last, "step")}, {"undoes", last - m_bodies.data()}});
    if (!done)
        return tl::unexpected(done.error());
    return what;
}

Step const* Outage::to_confirm_again() const
{
    if (state().last_physical.empty() || state().sealed || state().archived)
        return nullptr;
    // The longer of both clocks: the wall clock may have been set back, the monotonic one starts anew with
    // the program. Between runs a wall clock that went back tells nothing, so it is asked.
    Now const now = m_clock.now();
    double gap_s = static_cast<double>(now.utc_ms - stamp_ms(state().last_at)) / 1e3;
    Json const& last = m_bodies.back();
    if (text_member(last, "run") == now.run)
        gap_s = std::max(gap_s, now.mono_s - number_member(last, "mono_s"));
    else if (gap_s < -1.0)
        gap_s = long_break_s();
    if (gap_s < long_break_s())
        return nullptr;
    return checklists().step(state().last_physical);
}

Result<void> Outage::confirm_again()
{
    if (auto const open = not_closed(); !open)
        return open;
    return append({{"type", "confirmed_again"}, {"step", state().last_physical}});
}

Result<void> Outage::move(Pinned next, model::RevisionMove const& changes, std::string_view by,
                          bool pin_checked)
{
    if (auto const open = not_closed(); !open)
        return open;
    if (by.find_first_not_of(' ') == std::string_view::npos)
        return fail(Code::missing_input, m_job, "a named person confirms what the newer revision changes");
    Json body{{"type", "moved"},           {"by", by},
              {"pin", pin_checked},        {"from", revision_name(pinned())},
              {"to", revision_name(next)}, {"from_texts", pinned().texts},
              {"to_texts", next.texts}};
    body["changes"] = Json::array();
    body["lines"] = Json::array();
    for (auto const& c : changes.changes) {
        Json change{{"what", model::change_name(c.kind)}, {"title", c.title}};
        if (!c.step.empty())
            change["step"] = c.step;
        if (!c.old_value.empty())
            change["old"] = c.old_value;
        if (!c.new_value.empty())
            change["new"] = c.new_value;
        body["changes"].push_back(std::move(change));
        body["lines"].push_back(model::describe(c));
    }
    body["reopens"] = Json::array();
    for (auto const& r : changes.reopens) {
        Json opened{{"step", r.step}, {"because", r.because}};
        if (r.anew)
            opened["anew"] = true;
        body["reopens"].push_back(std::move(opened));
    }
    m_revisions.push_back(std::make_unique<Pinned>(std::move(next)));
    m_replay.add_revision(m_revisions.back()->checklists);
    auto const done = append(std::move(body));
    if (!done) {
        m_replay.drop_revision();
        m_revisions.pop_back();
    }
    return done;
}

Result<void> Outage::archive()
{
    if (state().archived)
        return fail(Code::denied, m_job, "this outage is archived already");
    return append({{"type", "archived"}, {"archived", true}});
}

Result<void> Outage::unarchive()
{
    if (!state().archived)
        return fail(Code::denied, m_job, "this outage is not archived");
    return append({{"type", "unarchived"}, {"archived", false}});
}

Result<void> Outage::note(Json body)
{
    // A remark may follow a seal: what became of it is worth knowing. Nothing else may.
    if (auto const open = not_closed(); !open && (state().archived || text_member(body, "type") != "remark"))
        return open;
    return append(std::move(body));
}

std::string Outage::describe(Json const& body, model::EntryWords const& words) const
{
    std::string const step = text_member(body, "step");
    for (auto it = m_revisions.rbegin(); it != m_revisions.rend(); ++it)
        if ((*it)->checklists.step(step))
            return model::describe_entry((*it)->checklists, body, words);
    return model::describe_entry(checklists(), body, words);
}

std::string Outage::last_entry_line(model::EntryWords const& words) const
{
    return words.said("{} on {}, {}: {}.", {clock_time(state().last_at), calendar_day(state().last_at),
                                            state().last_who, describe(m_bodies.back(), words)});
}

std::string revision_name(Pinned const& pinned)
{
    std::string newest;
    for (auto const& stage : pinned.checklists.stages)
        newest = std::max(newest, stage.date);
    std::string mark = sha256_hex(pinned.texts.dump()).substr(0, 8);
    std::transform(mark.begin(), mark.end(), mark.begin(), [](unsigned char c) { return std::toupper(c); });
    return fmt::format("profile {} revision {}, checklists of {}, mark {}", pinned.profile.id,
                       pinned.profile.revision, newest, mark);
}

} // namespace isochore::session
