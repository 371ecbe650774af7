#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"
#include "session/display.h"
#include <algorithm>
#include <cctype>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;

namespace {

std::string recorded_text(model::Step const& step, model::StepRecord const& record, Words const& words)
{
    if (!record.typed.empty())
        return record.typed;
    for (auto const& a : step.answers)
        if (a.id == record.answer)
            return words.answer(step, a);
    return session::in_print(words.reason(step, record.reason));
}

} // namespace

bool contains_words(std::string const& text, std::string const& wanted)
{
    auto const same = [](char a, char b) {
        return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
    };
    return std::search(text.begin(), text.end(), wanted.begin(), wanted.end(), same) != text.end();
}

void JumpPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    auto const& outage = *desk.outage;
    frame_outage(desk, sheet, m_stage);
    screens::ListView list;
    auto const* stage = outage.checklists().stage(m_stage);
    list.heading = stage && m_search.empty() ? desk.words.title(*stage) : desk.words("All steps");
    list.text = stage && m_search.empty() ? desk.words.about(*stage) : std::string();
    list.searchable = true;
    list.search = m_search;
    list.empty = desk.words("No step has these words.");
    for (auto const& s : outage.checklists().stages) {
        if (m_search.empty() && stage && &s != stage)
            continue;
        for (auto const& step : s.steps) {
            std::string const title = desk.words.title(step);
            if (!m_search.empty() && !contains_words(title, m_search) &&
                !contains_words(desk.words.text(step), m_search))
                continue;
            auto const status = model::status_of(outage.checklists(), outage.state(), step);
            std::string const locked =
                model::locked_because(outage.checklists(), outage.state(), step, desk.words);
            auto const& record = outage.state().record(step.id);
            bool const open = status == model::StepStatus::not_started;
            std::string detail = open && !locked.empty() ? locked : recorded_text(step, record, desk.words);
            std::string side = desk.words(open && !locked.empty() ? "locked" : model::status_name(status));
            list.rows.push_back(
                {step.id, title, detail, side,
                 open && !locked.empty() ? screens::Mark::locked : mark_of(status, record.verdict), true});
        }
    }
    list.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"all", desk.words("All steps"), {}, false, !m_stage.empty(), false},
                    {"menu", desk.words("More"), {}, false, true, false}};
    sheet.list = std::move(list);
}

void JumpPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row)
        desk.go(std::make_unique<StepPage>(intent.id));
    else if (intent.kind == Intent::Kind::stage)
        m_stage = intent.id;
    else if (intent.kind == Intent::Kind::field)
        type_search(desk, m_search);
    else if (intent.kind == Intent::Kind::action && intent.id == "back")
        go_home(desk);
    else if (intent.kind == Intent::Kind::action && intent.id == "all")
        m_stage.clear();
    else if (intent.kind == Intent::Kind::action && intent.id == "menu")
        desk.go(std::make_unique<MenuPage>());
}

void MenuPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_outage(desk, sheet, {});
    auto const& words = desk.words;
    bool const writable = !desk.outage->state().sealed && !desk.outage->state().archived;
    screens::ListView list;
    list.heading = words("This outage");
    list.rows = {
        {"steps",
         words("All steps"),
         words("Search, jump, see what is locked and why"),
         {},
         screens::Mark::none,
         true},
        {"entries",
         words("All entries"),
         words("The journal, the latest first"),
         {},
         screens::Mark::none,
         true},
        {"undo",
         words("Take back the last entry"),
         desk.outage->last_entry_line(desk.words),
         {},
         screens::Mark::none,
         writable},
        {"who", words("Who is entering"), desk.outage->who(), {}, screens::Mark::none, writable},
        {"kit",
         words("Kit and plan"),
         words("Tick parts off, calibration dates, time and cost"),
         {},
         screens::Mark::none,
         true},
        {"pack",
         words("Print the job pack"),
         words("What to bring, the time plan, the cautions, as a PDF"),
         {},
         screens::Mark::none,
         true},
        {"ledger",
         words("Gas ledger"),
         words("Every kilogram of gas, by container and breaker"),
         {},
         screens::Mark::none,
         true},
        {"stick",
         words("Write the stick"),
         words("Profile and this unit's values"),
         {},
         screens::Mark::none,
         writable},
        {"review", words("Review and sign"), words("Deviations, worst first"), {}, screens::Mark::none, true},
        {"parts",
         words("Parts"),
         words("What chains and kits are made of; add your own"),
         {},
         screens::Mark::none,
         true},
        {"move",
         words("Move to the newest checklists and profile"),
         desk.words.sentence(session::revision_name(desk.outage->pinned())),
         {},
         screens::Mark::none,
         writable},
        {desk.outage->state().archived ? "unarchive" : "archive",
         desk.outage->state().archived ? words("Take it out of the archive") : words("Archive this outage"),
         words("An archived outage is read, not written"),
         {},
         screens::Mark::none,
         true},
        {"settings", words("Settings"), words("Theme, language, size"), {}, screens::Mark::none, true},
        {"about", words("Cautions and about"), {}, {}, screens::Mark::none, true},
        {"jobs",
         words("All outages"),
         words("Leave this one; nothing is lost"),
         {},
         screens::Mark::none,
         true}};
    list.actions = {{"back", words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

} // namespace isochore::app
