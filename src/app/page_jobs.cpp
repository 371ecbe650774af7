#include "app/outage_frame.h"
#include "app/page_ledger.h"
#include "app/page_step.h"
#include "app/pages.h"
#include "session/clock.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

std::string lower(std::string text)
{
    for (char& c : text)
        c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

/// More rows than anyone scrolls through with gloves on; the search finds the rest.
constexpr std::size_t most_rows = 60;

} // namespace

void go_home(Desk& desk)
{
    if (desk.outage)
        desk.go(std::make_unique<StepPage>());
    else
        desk.go(std::make_unique<JobsPage>());
}

void type_search(Desk& desk, std::string& search)
{
    EntryRequest r;
    r.label = desk.words("Search");
    r.text = true;
    r.typed = search;
    r.may_be_empty = true;
    r.done = [&search](std::string const& typed, std::string const&) { search = typed; };
    desk.entry.open(std::move(r));
}

void JobsPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(desk, sheet);
    if (!m_outages)
        m_outages = desk.workspace.outages();
    screens::ListView list;
    list.heading = desk.words("Outages");
    list.text = desk.words("Open one to go on where it was left, or begin a new one.");
    list.searchable = true;
    list.search = m_search;
    list.empty = m_search.empty() ? desk.words("No outage has been begun on this tablet yet.")
                                  : desk.words("Nothing found.");
    if (!*m_outages) {
        Error const& e = m_outages->error();
        list.notice = screens::VerdictView{
            Mark::fail, desk.words("The store cannot be read"), e.where + ": " + e.detail, {}};
    } else {
        std::string const wanted = lower(m_search);
        for (auto const& o : **m_outages) {
            if (list.rows.size() >= most_rows)
                break;
            std::string const all = lower(o.station + " " + o.bay + " " + o.breaker + " " + o.job_no);
            if (!wanted.empty() && all.find(wanted) == std::string::npos)
                continue;
            list.rows.push_back(
                {o.job, fmt::format("{}  {}  {}", o.station, o.bay, o.breaker),
                 o.job_no + "   " +
                     desk.words("last entry {} {}, {}", {session::calendar_day(o.last_at),
                                                         session::clock_time(o.last_at), o.last_who}),
                 o.sealed ? desk.words("sealed") : desk.words("open"), o.sealed ? Mark::pass : Mark::open,
                 true});
        }
    }
    if (std::string const why = desk.workspace.journal().why_read_only(); !why.empty())
        list.notice = screens::VerdictView{Mark::fail, desk.words("Nothing can be recorded"), why, {}};
    list.actions = {{"library", desk.words("Profiles"), {}, false, true, false},
                    {"ledger", desk.words("Gas ledger"), {}, false, true, false},
                    {"people", desk.words("People"), {}, false, true, false},
                    {"settings", desk.words("Settings"), {}, false, true, false},
                    {"new", desk.words("New outage"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void JobsPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row) {
        auto outage = desk.workspace.resume(intent.id, {});
        if (!outage) {
            desk.report(outage.error());
            return;
        }
        desk.outage = std::move(*outage);
        desk.drafts.clear();
        desk.go(std::make_unique<ResumePage>());
    } else if (intent.kind == Intent::Kind::field) {
        type_search(desk, m_search);
    } else if (intent.kind == Intent::Kind::action) {
        if (intent.id == "new")
            desk.go(std::make_unique<NewOutagePage>());
        else if (intent.id == "library")
            desk.go(std::make_unique<LibraryPage>());
        else if (intent.id == "ledger")
            desk.go(std::make_unique<LedgerPage>());
        else if (intent.id == "people")
            desk.go(std::make_unique<PeoplePage>());
        else if (intent.id == "settings")
            desk.go(std::make_unique<SettingsPage>());
    }
}

void ResumePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    auto const& outage = *desk.outage;
    model::Step const* next = model::next_step(outage.checklists(), outage.state(), {});
    frame_outage(desk, sheet, next ? outage.checklists().stage_of(next->id)->id : std::string());
    screens::ListView list;
    list.heading = desk.words("Where this outage stands");
    list.text = desk.words("Last entry: {}", {outage.last_entry_line()});
    for (auto const& stage : outage.checklists().stages) {
        auto const p = model::progress(outage.checklists(), outage.state(), stage);
        Mark const mark = p.complete()  ? Mark::pass
                          : p.failed    ? Mark::fail
                          : p.undecided ? Mark::undecided
                                        : Mark::open;
        std::string detail;
        if (p.failed)
            detail += desk.words("{} failed", {std::to_string(p.failed)}) + "  ";
        if (p.undecided)
            detail += desk.words("{} undecided", {std::to_string(p.undecided)}) + "  ";
        if (p.deferred)
            detail += desk.words("{} put off", {std::to_string(p.deferred)});
        list.rows.push_back({stage.id, desk.words.title(stage), detail,
                             fmt::format("{} / {}", p.closed, p.applicable), mark, true});
    }
    if (model::Step const* again = outage.to_confirm_again())
        list.notice = screens::VerdictView{
            Mark::undecided,
            desk.words("Look again before you go on"),
            desk.words("“{}” was the last thing done to the plant, more than 15 minutes ago. Is it still so?",
                       {desk.words.title(*again)}),
            {}};
    list.actions.push_back({"jobs", desk.words("All outages"), {}, false, true, false});
    if (list.notice)
        list.actions.push_back({"again", desk.words("It is still so"), {}, true, true, false});
    else
        list.actions.push_back({"go",
                                outage.state().sealed ? desk.words("Look through it")
                                : next                ? desk.words("Go on: {}", {desk.words.title(*next)})
                                                      : desk.words("Go on"),
                                {},
                                true,
                                true,
                                false});
    sheet.list = std::move(list);
}

void ResumePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row || intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
        return;
    }
    if (intent.kind != Intent::Kind::action)
        return;
    if (intent.id == "jobs") {
        desk.outage.reset();
        desk.go(std::make_unique<JobsPage>());
    } else if (intent.id == "again") {
        if (auto const done = desk.outage->confirm_again(); !done)
            desk.report(done.error());
        else
            desk.go(std::make_unique<StepPage>());
    } else if (intent.id == "go") {
        desk.go(std::make_unique<StepPage>());
    } else if (intent.id == "menu") {
        desk.go(std::make_unique<MenuPage>());
    }
}

} // namespace isochore::app
