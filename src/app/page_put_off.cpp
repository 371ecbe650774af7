#include "app/page_put_off.h"
#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"
#include <algorithm>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

/// The step is left; what was half typed for it goes with it.
void go_on(Desk& desk, std::string const& step)
{
    desk.drafts.erase(step);
    auto page = std::make_unique<StepPage>(step);
    page->next(desk);
    desk.go(std::move(page));
}

} // namespace

void NotNowPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    auto const& words = desk.words;
    auto const& checklists = desk.outage->checklists();
    model::Step const& step = *checklists.step(m_step);
    frame_outage(desk, sheet, checklists.stage_of(m_step)->id);
    screens::ListView list;
    list.heading = words("Not now, or not at all?");
    list.text = "“" + words.title(step) + "”";
    list.rows.push_back({"put_off",
                         words("Put it off"),
                         words("It stays open, with an owner and the step it must be closed before"),
                         {},
                         Mark::deferred,
                         true});
    bool const always = model::always_applies(checklists, step);
    list.rows.push_back({"set_aside",
                         words("It does not apply here"),
                         always ? words("Not possible: this step always applies")
                                : words("It is closed without a value; the record shows that, and why"),
                         {},
                         always ? Mark::locked : Mark::not_applicable,
                         !always});
    list.actions = {{"back", words("Back"), {}, false, true, false}};
    sheet.list = std::move(list);
}

void NotNowPage::put_off(Desk& desk)
{
    auto const& words = desk.words;
    EntryRequest r;
    r.label = words("Why not now?");
    r.context = words.title(*desk.outage->checklists().step(m_step));
    r.text = true;
    r.suggestions = {words("Part not here"), words("Needs load current"), words("Waiting for temperature"),
                     words("Other crew is working there")};
    r.done = [this, &desk](std::string const& reason, std::string const&) {
        EntryRequest owner;
        owner.label = desk.words("Who closes it?");
        owner.context = reason;
        owner.text = true;
        owner.suggestions = desk.outage->state().crew;
        owner.done = [this, &desk, reason](std::string const& name, std::string const&) {
            desk.go(std::make_unique<PutOffPage>(m_step, reason, name));
        };
        desk.entry.open(std::move(owner));
    };
    desk.entry.open(std::move(r));
}

void NotNowPage::set_aside(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Why does it not apply?");
    r.context = desk.words.title(*desk.outage->checklists().step(m_step));
    r.text = true;
    r.suggestions = {desk.words("This breaker has no such part"), desk.words("Not part of this job"),
                     desk.words("Done and recorded earlier")};
    r.done = [this, &desk](std::string const& reason, std::string const&) {
        if (auto const done = desk.outage->not_applicable(m_step, reason); !done)
            desk.report(done.error());
        else
            go_on(desk, m_step);
    };
    desk.entry.open(std::move(r));
}

void NotNowPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row && intent.id == "put_off")
        put_off(desk);
    else if (intent.kind == Intent::Kind::row && intent.id == "set_aside")
        set_aside(desk);
    else if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<StepPage>(m_step)); // nothing is said of it
}

void PutOffPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    auto const& outage = *desk.outage;
    auto const& words = desk.words;
    auto const& checklists = outage.checklists();
    model::Step const& step = *checklists.step(m_step);
    frame_outage(desk, sheet, checklists.stage_of(m_step)->id);
    screens::ListView list;
    list.heading = words("Before which step must it be closed?");
    list.text = words("“{}” is put off, owner {}: {}. The step chosen here stays locked until it is closed.",
                      {words.title(step), m_owner, m_reason});
    list.searchable = true;
    list.search = m_search;
    list.empty = words("No step has these words.");
    model::Step const* proposed = model::proposed_wait(checklists, outage.state(), step);
    auto const add = [&](model::Step const& s, std::string side) {
        list.rows.push_back({s.id, words.title(s), words.title(*checklists.stage_of(s.id)), std::move(side),
                             Mark::none, true});
    };
    if (m_search.empty()) {
        if (proposed)
            add(*proposed, words("proposed"));
        list.rows.push_back({std::string(model::after_outage),
                             words("Not in this outage"),
                             words("It stays open in the record, with its owner"),
                             {},
                             Mark::none,
                             true});
    }
    for (auto const* s : model::may_wait_until(checklists, outage.state(), step)) {
        bool const found = contains_words(words.title(*s), m_search);
        if (found && (s != proposed || !m_search.empty()))
            add(*s, {});
    }
    list.actions = {{"back", words("Back"), {}, false, true, false}};
    sheet.list = std::move(list);
}

void PutOffPage::put_off(Desk& desk, std::string const& before)
{
    if (auto const done = desk.outage->defer(m_step, m_reason, m_owner, before); !done) {
        desk.report(done.error());
        return;
    }
    go_on(desk, m_step);
}

void PutOffPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row)
        put_off(desk, intent.id);
    else if (intent.kind == Intent::Kind::field)
        type_search(desk, m_search);
    else if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<StepPage>(m_step)); // nothing is put off
}

} // namespace isochore::app
