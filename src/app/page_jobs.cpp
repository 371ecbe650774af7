#include "app/outage_frame.h"
#include "app/page_ledger.h"
#include "app/page_step.h"
#include "app/pages.h"
#include "calc/usual.h"
#include "session/clock.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

/// More rows than anyone scrolls through with gloves on; the search finds the rest.
constexpr std::size_t rows_at_a_time = 60;
/// Read on in an idle moment: some milliseconds' worth.
constexpr std::size_t read_at_a_time = 200;
constexpr double idle_moment_s = 0.03;
constexpr char const* more_row = "@more";

struct ShowWord {
    session::OutageList::Show show;
    char const* word;
};
constexpr ShowWord shows[] = {{session::OutageList::Show::in_hand, said("not archived")},
                              {session::OutageList::Show::archived, said("archived")},
                              {session::OutageList::Show::all, said("all of them")}};

} // namespace

void say_damaged(Desk& desk, Error const& error)
{
    if (error.code != Error::Code::corrupt)
        return desk.report(error);
    desk.say(desk.words("These entries are damaged"),
             desk.fault(error) + "\n" +
                 desk.words("Nothing was changed. Copy the whole folder to a safe place before anyone tries to "
                            "mend it; other outages can be worked on."));
}

void go_home(Desk& desk)
{
    if (desk.outage)
        desk.go(std::make_unique<StepPage>());
    else
        desk.go(std::make_unique<JobsPage>());
}

std::string look_again_text(Desk& desk, model::Step const& step)
{
    return desk.words("“{}” was the last thing done to the plant, more than {} ago. Is it still so?",
                      {desk.words.title(step), calc::usual("outage", "long_break")->text});
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

JobsPage::JobsPage() : m_most(rows_at_a_time) {}

void JobsPage::tick(Desk& desk)
{
    auto& journal = desk.workspace.journal();
    bool const first = !m_outages;
    if (first)
        m_outages = session::OutageList::of(journal);
    if (!*m_outages || (*m_outages)->whole())
        return;
    // A search or a filter looks at all of them, so what is left is read now.
    bool const all = !m_search.empty() || m_show != Show::in_hand;
    std::size_t const count = first ? rows_at_a_time : all ? (*m_outages)->total() : read_at_a_time;
    if (auto const read = (*m_outages)->read_some(journal, count); !read)
        m_outages = tl::unexpected(read.error());
}

std::optional<double> JobsPage::wake_in_s() const
{
    bool const more = m_outages && *m_outages && !(*m_outages)->whole();
    return more ? std::optional(idle_moment_s) : std::nullopt;
}

void JobsPage::fill_rows(Desk& desk, screens::ListView& list) const
{
    auto const& words = desk.words;
    std::size_t found = 0;
    for (auto const* o : (*m_outages)->find(m_search, m_show, m_most, found))
        list.rows.push_back(
            {o->job, fmt::format("{}  {}  {}", o->station, o->bay, o->breaker),
             o->job_no + "   " +
                 words("last entry {} {}, {}",
                       {session::calendar_day(o->last_at), session::clock_time(o->last_at), o->last_who}),
             o->archived ? words("archived")
             : o->sealed ? words("sealed")
                         : words("open"),
             o->archived ? Mark::not_applicable
             : o->sealed ? Mark::pass
                         : Mark::open,
             true});
    if (found > list.rows.size())
        list.rows.push_back({more_row,
                             words("Show more"),
                             words("{} of {} shown; a search finds the rest",
                                   {std::to_string(list.rows.size()), std::to_string(found)}),
                             {},
                             Mark::none,
                             true});
}

void JobsPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    screens::ListView list;
    list.heading = desk.words("Outages");
    list.text = desk.words("Open one to go on where it was left, or begin a new one.");
    list.searchable = true;
    list.search = m_search;
    for (auto const& s : shows)
        if (s.show == m_show)
            list.filters.push_back({"show", desk.words("Show"), desk.words(s.word), m_show != Show::in_hand});
    list.empty = !m_search.empty() || m_show != Show::in_hand
                     ? desk.words("Nothing found.")
                     : desk.words("No outage is in hand on this tablet.");
    if (m_outages && *m_outages)
        fill_rows(desk, list);
    else if (m_outages)
        list.notice = screens::VerdictView{
            Mark::fail, desk.words("The store cannot be read"), desk.fault(m_outages->error()), {}};
    std::string const why = desk.workspace.journal().why_read_only();
    if (!why.empty())
        list.notice = screens::VerdictView{
            Mark::fail, desk.words("Nothing can be recorded"), desk.words.sentence(why), {}};
    list.actions = {{"library", desk.words("Profiles"), {}, false, true, false},
                    {"ledger", desk.words("Gas ledger"), {}, false, true, false},
                    {"people", desk.words("People"), {}, false, true, false},
                    {"settings", desk.words("Settings"), {}, false, true, false},
                    {"new", desk.words("New outage"), {}, true, why.empty(), false}};
    sheet.list = std::move(list);
}

void JobsPage::open(Desk& desk, std::string const& job)
{
    auto outage = desk.workspace.resume(job, {});
    if (!outage) {
        say_damaged(desk, outage.error());
        return;
    }
    desk.outage = std::move(*outage);
    desk.drafts.clear();
    desk.go(std::make_unique<ResumePage>());
}

void JobsPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row) {
        if (intent.id == more_row)
            m_most += rows_at_a_time;
        else
            open(desk, intent.id);
    } else if (intent.kind == Intent::Kind::field) {
        type_search(desk, m_search);
    } else if (intent.kind == Intent::Kind::filter) {
        m_show = m_show == Show::in_hand    ? Show::archived
                 : m_show == Show::archived ? Show::all
                                            : Show::in_hand;
        m_most = rows_at_a_time;
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
    list.text = desk.words("Last entry: {}", {outage.last_entry_line(desk.words)});
    if (outage.why_closed().empty())
        list.text += "\n" + desk.words("Entries go on under {}.", {outage.who()});
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
            look_again_text(desk, *again),
            {}};
    if (outage.state().archived)
        list.notice = screens::VerdictView{
            Mark::not_applicable,
            desk.words("Archived: to be read, not written"),
            desk.words("Put away on {} by {}. The menu takes it out again.",
                       {session::calendar_day(outage.state().archived_at), outage.state().archived_by}),
            {}};
    list.actions.push_back({"jobs", desk.words("All outages"), {}, false, true, false});
    if (outage.to_confirm_again())
        list.actions.push_back({"again", desk.words("It is still so"), {}, true, true, false});
    else
        list.actions.push_back({"go",
                                outage.state().sealed || outage.state().archived
                                    ? desk.words("Look through it")
                                : next ? desk.words("Go on: {}", {desk.words.title(*next)})
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
