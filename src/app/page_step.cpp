#include "app/page_step.h"
#include "app/foreseen.h"
#include "app/outage_frame.h"
#include "app/page_prepare.h"
#include "app/page_put_off.h"
#include "app/page_sign.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "app/unit_habit.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using model::Step;
using model::StepKind;
using screens::Intent;

namespace {

/// What was typed at this step earlier: offered again, the latest first.
std::vector<std::string> typed_before(session::Outage const& outage, std::string_view step)
{
    std::vector<std::string> texts;
    for (auto it = outage.bodies().rbegin(); it != outage.bodies().rend() && texts.size() < 4; ++it)
        if (text_member(*it, "step") == step && it->contains("typed"))
            texts.push_back(text_member(*it, "typed"));
    return texts;
}

double zoomed(double now, bool in)
{
    constexpr double step = 1.5, most = step * step * step;
    return std::clamp(in ? now * step : now / step, 1.0, most);
}

EntryJudgement judgement(Desk& desk, session::Evaluation const& e)
{
    auto const& words = desk.words;
    return {words.sentence(e.echo), words.sentence(e.problem), words.sentence(e.question), {}};
}

/// Whether an action leads to an entry about the step.
bool records(std::string_view action)
{
    for (char const* one : {"record", "reading", "correct", "later", "override", "compare", "new_series"})
        if (action == one)
            return true;
    return false;
}

/// Work that must not be begun unless it can be finished says so before its button is pressed.
void say_too_late(Desk& desk, Step const& step, screens::StepView& view)
{
    if (!step.last_start)
        return;
    auto const plan = desk.plan.now(*desk.outage);
    if (plan && plan->last_start_in_s && *plan->last_start_in_s < 0.0)
        view.cautions.insert(
            view.cautions.begin(),
            {desk.words("Too late to begin this"),
             desk.words("What is left of the window does not hold the gas work with a chance of {}. Leave it "
                        "closed and agree another window.",
                        {fmt::format("{:.0f} %", plan->wanted_chance * 100.0)})});
}

} // namespace

StepPage::StepPage(std::string step) : m_step(std::move(step)) {}

Step const& StepPage::step(Desk& desk)
{
    auto const& outage = *desk.outage;
    Step const* found = outage.checklists().step(m_step);
    if (!found)
        found = model::next_step(outage.checklists(), outage.state(), {});
    if (!found)
        found = &outage.checklists().stages.back().steps.back();
    m_step = found->id;
    return *found;
}

void StepPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space)
{
    Step const& s = step(desk);
    if (!m_begun)
        take_up_draft(desk);
    frame_outage(desk, sheet, desk.outage->checklists().stage_of(s.id)->id);
    sheet.step = step_view(desk, s, m_draft, evaluation(desk), space);
    if (!m_draft.answer.empty() || !m_draft.typed.empty())
        show_foreseen(desk, m_foreseen, *sheet.step, space);
    say_too_late(desk, s, *sheet.step);
    sheet.open_panel = m_panel;
    sheet.picture_zoom = m_zoom;
    m_counting = !sheet.step->countdown.empty();
    if (s.kind == StepKind::attach)
        say_lost_file(desk, *sheet.step);
    close_sheet(desk, *sheet.step);
}

/// Says on the sheet, before anything is typed, that nothing can be recorded, and takes away what would lead
/// into the void; says it too when the disk has come back.
void StepPage::close_sheet(Desk& desk, screens::StepView& v)
{
    auto const& state = desk.outage->state();
    bool const put_away = state.sealed || state.archived;
    std::string const why = desk.outage->why_closed();
    bool const fault = !why.empty() && !put_away;
    m_well_again = m_well_again || (m_disk_fault && !fault);
    m_disk_fault = fault;
    if (why.empty()) {
        if (m_well_again)
            v.verdict =
                screens::VerdictView{screens::Mark::pass,
                                     desk.words("Entries can be recorded again"),
                                     desk.words("The disk takes them. What was typed here is still here."),
                                     {}};
        return;
    }
    std::erase_if(v.actions, [](screens::ActionView const& a) {
        return a.id != "back" && a.id != "next" && a.id != "unlock" && a.id != "review";
    });
    if (v.actions.size() < 2)
        v.actions.push_back({"next", desk.words("Next step"), {}, true, true, false});
    if (fault)
        v.verdict = screens::VerdictView{screens::Mark::fail, desk.words("Nothing can be recorded"),
                                         desk.words.sentence(why),
                                         desk.words("Free the disk or mend the folder. Do not go on until it "
                                                    "is said here that entries are taken again.")};
    else if (!v.verdict)
        v.verdict = screens::VerdictView{screens::Mark::not_applicable,
                                         state.archived ? desk.words("Archived: to be read, not written")
                                                        : desk.words("The record is sealed"),
                                         {},
                                         {}};
}

void StepPage::say_lost_file(Desk& desk, screens::StepView& v)
{
    // Photos are megabytes: they are read once, not in every frame.
    std::string now = m_step + " " + std::to_string(desk.outage->bodies().size());
    if (now != m_files_of) {
        m_lost = session::lost_files(desk.workspace, *desk.outage);
        m_files_of = std::move(now);
    }
    auto const& record = desk.outage->state().record(m_step);
    if (record.entry < 0 || !m_draft.typed.empty())
        return;
    std::string const hash =
        text_member(desk.outage->bodies()[static_cast<std::size_t>(record.entry)], "file");
    for (auto const& lost : m_lost)
        if (lost.step == m_step && lost.hash == hash)
            v.verdict = screens::VerdictView{
                screens::Mark::fail,
                lost.missing ? desk.words("The file is missing") : desk.words("The file was altered"),
                lost.text(*desk.outage, desk.words),
                desk.words("The entry stands with the file's hash. Attach the file again under Correct.")};
}

bool StepPage::asks_to_look_again(Desk& desk)
{
    Step const* again = desk.outage->to_confirm_again();
    if (!again || !desk.outage->why_closed().empty())
        return false;
    Question q;
    q.title = desk.words("Look again before you go on");
    q.text = look_again_text(desk, *again);
    q.actions = {{"cancel", desk.words("Back"), {}, false, true, false},
                 {"go", desk.words("Go to that step"), {}, false, true, false},
                 {"yes", desk.words("It is still so"), {}, true, true, false}};
    q.answered = [this, &desk, id = again->id](std::string const& answer) {
        if (answer == "go") {
            turn_to(desk, id);
        } else if (answer == "yes") {
            if (auto const done = desk.outage->confirm_again(); !done)
                desk.report(done.error());
        }
    };
    desk.question = std::move(q);
    return true;
}

// The same question gets the same answer until something is entered or typed: nothing is worked out twice for
// frames that only count the seconds.
session::Evaluation const& StepPage::evaluation(Desk& desk)
{
    constexpr char apart = '\x1f';
    std::string asked = m_step + apart + std::to_string(desk.outage->bodies().size()) + apart +
                        m_draft.typed + apart + m_draft.answer + apart + (m_draft.correcting ? "c" : "");
    if (asked != m_evaluated) {
        m_evaluation = evaluate_draft(desk, step(desk), m_draft);
        std::string const& value = m_draft.answer.empty() ? m_draft.typed : m_draft.answer;
        m_foreseen.reset();
        if (!value.empty() && m_evaluation.ok())
            m_foreseen = session::foresee(desk.outage->context(), step(desk), value);
        m_evaluated = std::move(asked);
    }
    return m_evaluation;
}

void StepPage::turn_to(Desk& desk, std::string id)
{
    m_step = std::move(id);
    m_panel.clear();
    m_draft = {};
    take_up_draft(desk);
}

/// What was half typed at this step is still there after other sheets were looked at.
void StepPage::take_up_draft(Desk& desk)
{
    m_begun = true;
    if (auto const it = desk.drafts.find(m_step); it != desk.drafts.end())
        m_draft.typed = it->second;
}

void StepPage::act(Desk& desk, Intent const& intent)
{
    m_well_again = false;
    bool const types = intent.kind == Intent::Kind::field || intent.kind == Intent::Kind::answer ||
                       intent.kind == Intent::Kind::key;
    if (types)
        if (std::string const why = desk.outage->why_closed(); !why.empty()) {
            desk.say(desk.words("Nothing can be recorded"), desk.words.sentence(why));
            return;
        }
    if ((types || (intent.kind == Intent::Kind::action && records(intent.id))) && asks_to_look_again(desk))
        return;
    switch (intent.kind) {
    case Intent::Kind::stage: {
        Step const& current = step(desk);
        auto const& outage = *desk.outage;
        auto const* stage = outage.checklists().stage(intent.id);
        if (!stage)
            return;
        if (outage.checklists().stage_of(current.id) == stage) {
            desk.go(std::make_unique<JumpPage>(stage->id));
            return;
        }
        for (auto const& s : stage->steps) {
            auto const status = model::status_of(outage.checklists(), outage.state(), s);
            if (!model::is_closed(status) &&
                model::missing_for(outage.checklists(), outage.state(), s).empty()) {
                turn_to(desk, s.id);
                return;
            }
        }
        turn_to(desk, stage->steps.front().id);
        return;
    }
    case Intent::Kind::action:
        act_action(desk, intent.id);
        return;
    case Intent::Kind::field:
        if (intent.id == "value")
            type_value(desk);
        else if (intent.id.starts_with("column."))
            type_column(desk, static_cast<std::size_t>(std::atoi(intent.id.c_str() + 7)));
        else if (intent.id == "reader" || intent.id == "doer")
            type_person(desk, intent.id == "reader");
        return;
    case Intent::Kind::answer:
        m_draft.answer = intent.id;
        return;
    case Intent::Kind::panel:
        m_panel = intent.id == m_panel ? std::string() : intent.id;
        m_zoom = 1.0;
        return;
    case Intent::Kind::zoom:
        m_zoom = zoomed(m_zoom, intent.text == "in");
        return;
    case Intent::Kind::key:
        // Typing on a real keyboard or a scanner opens the field it belongs to.
        if (step(desk).kind == StepKind::measure && intent.text.size() == 1) {
            type_value(desk);
            desk.entry.act(intent);
        } else if (intent.text == "enter") {
            act_action(desk, "record");
        }
        return;
    default:
        return;
    }
}

void StepPage::act_action(Desk& desk, std::string const& action)
{
    Step const& s = step(desk);
    if (action == "back")
        back(desk);
    else if (action == "next")
        next(desk);
    else if (action == "record") {
        if (s.kind == StepKind::measure && m_draft.typed.empty())
            type_value(desk);
        else if (s.kind == StepKind::attach && m_draft.typed.empty())
            type_value(desk);
        else
            record(desk, false);
    } else if (action == "reading")
        add_reading(desk, false);
    else if (action == "compare" || (action == "correct" && !s.compare.empty()))
        desk.go(std::make_unique<ReadBackPage>(s.id));
    else if (action == "correct") {
        m_draft.correcting = true;
        if (s.kind == StepKind::measure)
            type_value(desk);
    } else if (action == "new_series")
        begin_new_series(desk);
    else if (action == "later")
        desk.go(std::make_unique<NotNowPage>(m_step));
    else if (action == "override")
        override_step(desk);
    else if (action == "unlock") {
        turn_to(desk, model::leads_to(desk.outage->checklists(), desk.outage->state(), s).id);
    } else if (action == "kit")
        desk.go(std::make_unique<PreparePage>());
    else if (action == "stick")
        desk.go(std::make_unique<StickPage>());
    else if (action == "review")
        desk.go(std::make_unique<SignPage>());
    else if (action == "menu")
        desk.go(std::make_unique<MenuPage>());
}

void StepPage::type_value(Desk& desk)
{
    Step const& s = step(desk);
    EntryRequest r;
    r.label = desk.words.title(s);
    r.context = desk.words.text(s);
    r.text = s.free_text || s.kind == StepKind::attach;
    std::string const before = m_draft.typed;
    if (r.text)
        r.typed = before;
    else if (auto const space = before.find(' '); space != std::string::npos) {
        r.typed = before.substr(0, space);
        r.unit = before.substr(space + 1);
    }
    r.units = s.units;
    if (r.unit.empty())
        r.unit = usual_unit(*desk.outage, s.dimension, s.units);
    if (r.text)
        r.suggestions = typed_before(*desk.outage, s.id);
    // Asked in every frame, worked out anew only when a key has changed the value.
    r.judge = [&desk, &s, last = std::string(), said = EntryJudgement{}](std::string const& whole) mutable {
        if (whole == last)
            return said;
        auto const context = desk.outage->context();
        auto const e = session::evaluate_value(context, s, whole);
        last = whole;
        said = judgement(desk, e);
        if (e.ok())
            said.foreseen = foreseen_view(desk, session::foresee(context, s, whole));
        return said;
    };
    if (s.kind == StepKind::attach)
        r.judge = {};
    r.done = [this, &desk](std::string const& typed, std::string const& unit) {
        m_draft.typed = unit.empty() ? typed : typed + " " + unit;
        desk.drafts[m_step] = m_draft.typed;
        m_draft.asked = false;
    };
    desk.entry.open(std::move(r));
}

void StepPage::type_column(Desk& desk, std::size_t column)
{
    Step const& s = step(desk);
    if (column >= s.columns.size())
        return;
    auto const& c = s.columns[column];
    EntryRequest r;
    r.label = desk.words(c.label);
    r.context = desk.words.title(s);
    r.units = c.units;
    r.unit = usual_unit(*desk.outage, c.dimension, c.units);
    r.judge = [&desk, &s, column](std::string const& whole) {
        return judgement(desk, session::evaluate_cell(desk.outage->context(), s, column, whole));
    };
    r.done = [this, &desk, column](std::string const& typed, std::string const& unit) {
        Step const& now = step(desk);
        m_draft.values.resize(now.columns.size());
        m_draft.values[column] = typed + " " + unit;
        // One column after the other, then the reading is complete.
        for (std::size_t i = 0; i < m_draft.values.size(); ++i)
            if (m_draft.values[i].empty())
                return type_column(desk, i);
        add_reading(desk, false);
    };
    desk.entry.open(std::move(r));
}

void StepPage::type_person(Desk& desk, bool reader)
{
    EntryRequest r;
    r.label = reader ? desk.words("Read by") : desk.words("Done by");
    r.context = desk.words.title(step(desk));
    r.text = true;
    r.suggestions = desk.outage->state().crew;
    r.done = [this, reader](std::string const& typed, std::string const&) {
        (reader ? m_draft.reader : m_draft.doer) = typed;
    };
    desk.entry.open(std::move(r));
}

void StepPage::record(Desk& desk, bool confirmed)
{
    Step const& s = step(desk);
    auto& outage = *desk.outage;
    Result<session::Evaluation> done = session::Evaluation{};
    switch (s.kind) {
    case StepKind::measure: {
        auto const e = session::evaluate_value(outage.context(), s, m_draft.typed);
        if (e.ok() && !e.question.empty() && !confirmed) {
            desk.ask(desk.words("Is that right?"), desk.words.sentence(e.question), desk.words("It is right"),
                     [this, &desk] { record(desk, true); });
            return;
        }
        done = outage.record_value(s.id, m_draft.typed, confirmed);
        break;
    }
    case StepKind::confirm:
    case StepKind::choose: {
        Pair const pair = s.challenge ? pair_of(outage, s, m_draft) : Pair{};
        done = outage.record_answer(s.id, m_draft.answer, pair.reader, pair.doer);
        break;
    }
    case StepKind::compute:
    case StepKind::log:
        done = outage.record_call(s.id);
        break;
    case StepKind::attach: {
        auto const kept = session::attach_file(desk.workspace, outage, s.id, m_draft.typed);
        if (!kept) {
            desk.report(kept.error());
            return;
        }
        break;
    }
    }
    if (!done) {
        desk.report(done.error());
        return;
    }
    desk.drafts.erase(s.id);
    m_draft = {};
    m_panel.clear();
    if (done->verdict != "fail" && done->verdict != "undecided")
        next(desk);
}

void StepPage::add_reading(Desk& desk, bool confirmed)
{
    Step const& s = step(desk);
    for (std::size_t i = 0; i < s.columns.size(); ++i)
        if (m_draft.values.size() <= i || m_draft.values[i].empty())
            return type_column(desk, i);
    auto const e = session::evaluate_reading(desk.outage->context(), s, m_draft.values);
    if (e.ok() && !e.question.empty() && !confirmed) {
        desk.ask(desk.words("Is that right?"), desk.words.sentence(e.question), desk.words("It is right"),
                 [this, &desk] { add_reading(desk, true); });
        return;
    }
    auto const done = desk.outage->add_reading(s.id, m_draft.values, confirmed);
    if (!done) {
        desk.report(done.error());
        return;
    }
    m_draft.values.clear();
}

void StepPage::begin_new_series(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("What disturbed the series?");
    r.context = desk.words.title(step(desk));
    r.text = true;
    r.suggestions = {desk.words("Sun on the pipe"), desk.words("Valve not shut"),
                     desk.words("Joint made again"), desk.words("Readings mistaken")};
    r.done = [this, &desk](std::string const& reason, std::string const&) {
        auto const count = desk.outage->state().record(m_step).readings.size();
        desk.ask(desk.words("Begin a new series?"),
                 desk.words("{} readings no longer count. They stay in the history: {}.",
                            {std::to_string(count), reason}),
                 desk.words("Begin anew"), [this, &desk, reason] {
                     if (auto const done = desk.outage->begin_new_series(m_step, reason); !done)
                         desk.report(done.error());
                     m_draft = {};
                 });
    };
    desk.entry.open(std::move(r));
}

void StepPage::override_step(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Why is it overridden?");
    r.context = desk.words.title(step(desk));
    r.text = true;
    r.done = [this, &desk](std::string const& reason, std::string const&) {
        ask_person(desk, desk.words("Who decides this?"),
                   step(desk).may_override == model::OverridePolicy::reason_and_pin,
                   [this, &desk, reason](std::string const& name, bool pin) {
                       auto const done = desk.outage->override_step(m_step, reason, name, pin);
                       if (!done)
                           desk.report(done.error());
                       else
                           next(desk);
                   });
    };
    desk.entry.open(std::move(r));
}

void StepPage::next(Desk& desk)
{
    auto const& outage = *desk.outage;
    Step const* following = model::next_step(outage.checklists(), outage.state(), m_step);
    if (following && following->id == m_step) {
        // The step in hand is still open (failed, undecided): go past it without losing it.
        bool past = false;
        for (auto const& stage : outage.checklists().stages)
            for (auto const& s : stage.steps) {
                auto const status = model::status_of(outage.checklists(), outage.state(), s);
                if (past && !model::is_closed(status) && status != model::StepStatus::deferred &&
                    model::missing_for(outage.checklists(), outage.state(), s).empty())
                    return turn_to(desk, s.id);
                past = past || s.id == m_step;
            }
    }
    if (following && following->id != m_step) {
        turn_to(desk, following->id);
        return;
    }
    // Nothing is open any more: turn the pages.
    bool past = false;
    for (auto const& stage : outage.checklists().stages)
        for (auto const& s : stage.steps) {
            if (past && model::applies(outage.checklists(), outage.state(), s) != false)
                return turn_to(desk, s.id);
            past = past || s.id == m_step;
        }
}

void StepPage::back(Desk& desk)
{
    auto const& outage = *desk.outage;
    Step const* before = nullptr;
    for (auto const& stage : outage.checklists().stages)
        for (auto const& s : stage.steps) {
            if (s.id == m_step) {
                if (before)
                    turn_to(desk, before->id);
                else
                    desk.go(std::make_unique<JobsPage>());
                return;
            }
            if (model::applies(outage.checklists(), outage.state(), s) != false)
                before = &s;
        }
}

} // namespace isochore::app
