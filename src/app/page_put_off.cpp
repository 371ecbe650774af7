#include "app/page_put_off.h"
#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"
#include <algorithm>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

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
    desk.drafts.erase(m_step);
    auto page = std::make_unique<StepPage>(m_step);
    page->next(desk);
    desk.go(std::move(page));
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
