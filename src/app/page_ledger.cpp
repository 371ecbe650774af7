#include "app/page_ledger.h"
#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"
#include "calc/gwp_sources.h"
#include "session/clock.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using session::GasMovement;
using session::PlaceKind;

namespace {

std::string kg(double value)
{
    return show_fixed(value, 3);
}

std::string lb(double value)
{
    return show_fixed(find_unit("lb", Dimension::mass)->from_si(value), 3);
}

std::string tonnes(double value, session::GasBook const& book)
{
    return show_fixed(value * book.gwp.value / 1e3, 3);
}

std::string today_of(Desk& desk)
{
    return session::calendar_day(session::stamp(desk.workspace.clock().now()));
}

void frame(Desk& desk, screens::SheetView& sheet)
{
    if (desk.outage)
        frame_outage(desk, sheet, {});
    else
        frame_plain(sheet);
}

} // namespace

// The journal has one connection, so this cannot run beside the window: it goes on in slices, and the sheet is
// drawn between them.
void LedgerPage::look(Desk& desk)
{
    constexpr std::chrono::milliseconds slice{120};
    if (!m_looking)
        m_looking.emplace();
    if (auto const went = session::GasLedger(desk.workspace).take_over(*m_looking, slice); !went) {
        m_book = tl::unexpected(went.error());
        m_looking.reset();
    } else if (m_looking->finished) {
        m_problems = std::move(m_looking->problems);
        m_looking.reset();
        load(desk);
    }
}

void LedgerPage::tick(Desk& desk)
{
    if (m_looking)
        look(desk);
}

screens::ProgressView LedgerPage::looking(Desk& desk) const
{
    screens::ProgressView p;
    p.heading = desk.words("Looking into the outages");
    p.text = desk.words("{} of {}", {std::to_string(m_looking->seen.size()), std::to_string(m_looking->total)});
    p.done = m_looking->total ? static_cast<double>(m_looking->seen.size()) /
                                    static_cast<double>(m_looking->total)
                              : 0.0;
    p.can_cancel = true;
    return p;
}

void LedgerPage::load(Desk& desk)
{
    m_book = session::GasLedger(desk.workspace).book();
    if (*m_book && m_year == 0) {
        auto const years = session::years_of(**m_book);
        m_year = years.empty() ? std::stoi(today_of(desk).substr(0, 4)) : years.front();
    }
}

void LedgerPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame(desk, sheet);
    if (!m_book && !m_looking)
        look(desk);
    if (m_looking) {
        sheet.progress = looking(desk);
        sheet.busy = true;
        return;
    }
    screens::TableView table;
    table.heading = desk.words("Gas ledger");
    table.actions = {{"back", desk.words("Back"), {}, false, true, false}};
    if (!*m_book) {
        Error const& e = m_book->error();
        table.notice = screens::VerdictView{Mark::fail,
                                            desk.words("The ledger cannot be read"),
                                            e.where + ": " + desk.words.sentence(e.detail),
                                            {}};
        sheet.table = std::move(table);
        return;
    }
    session::GasBook const& book = **m_book;
    table.filters = {
        {"places", desk.words("Show"), desk.words("containers and breakers"), m_show == Show::places},
        {"year", desk.words("Show"), desk.words("the year"), m_show == Show::year},
        {"entries", desk.words("Show"), desk.words("all entries"), m_show == Show::entries},
        {"gwp", "GWP", show_short(book.gwp.value, 6) + ", " + desk.words.sentence(book.gwp.name), book.gwp_chosen}};
    if (m_show == Show::places)
        show_places(desk, table);
    else if (m_show == Show::year)
        show_year(desk, table);
    else
        show_entries(desk, table);
    if (!m_problems.empty() && !table.notice)
        table.notice =
            screens::VerdictView{Mark::undecided,
                                 desk.words("An outage could not be read, its gas is missing here"),
                                 m_problems.front(),
                                 {}};
    table.actions.push_back({"files", desk.words("Write the files"), {}, false, true, false});
    if (m_show == Show::year)
        table.actions.push_back({"close", desk.words("Close the year"), desk.words("hold"), false,
                                 !book.closed_years.contains(m_year), true});
    table.actions.push_back({"new", desk.words("New entry"), {}, true, true, false});
    sheet.table = std::move(table);
}

void LedgerPage::show_places(Desk& desk, screens::TableView& table) const
{
    session::GasBook const& book = **m_book;
    table.text =
        desk.words("Fills come from the outages by themselves. Purchases, returns and what was recovered "
                   "are entered here.");
    table.columns = {{desk.words("Name"), 2.6, false},
                     {desk.words("in, kg"), 1.0, true},
                     {desk.words("out, kg"), 1.0, true},
                     {desk.words("holds, kg"), 1.0, true},
                     {"lb", 1.0, true},
                     {"t CO2e", 1.1, true}};
    table.empty = desk.words("No gas has been moved yet.");
    struct Group {
        PlaceKind kind;
        std::string heading;
    };
    for (auto const& group : {Group{PlaceKind::container, desk.words("Containers")},
                              Group{PlaceKind::breaker, desk.words("Breakers: gas put in less taken out")},
                              Group{PlaceKind::hoses, desk.words("Hoses")},
                              Group{PlaceKind::air, desk.words("Lost to the air")}}) {
        double in = 0.0, out = 0.0, holds = 0.0;
        std::size_t rows = 0;
        for (auto const& p : session::balances(book)) {
            if (p.kind != group.kind)
                continue;
            if (rows++ == 0)
                table.rows.push_back({"group." + group.heading, {group.heading}, Mark::none, false, false});
            std::string name = p.place == "air"     ? desk.words("air")
                               : p.place == "hoses" ? desk.words("hoses")
                                                    : p.place;
            if (p.nameplate_kg != 0.0)
                name += ", " + desk.words("nameplate {} kg", {kg(p.nameplate_kg)});
            if (!p.problem.empty() && !table.notice)
                table.notice = screens::VerdictView{Mark::undecided,
                                                    desk.words("Gas whose origin is not known"),
                                                    p.place + ": " + desk.words.sentence(p.problem),
                                                    {}};
            table.rows.push_back(
                {"place." + p.place,
                 {name, kg(p.in_kg), kg(p.out_kg), kg(p.holds_kg), lb(p.holds_kg), tonnes(p.holds_kg, book)},
                 p.problem.empty() ? Mark::none : Mark::undecided,
                 false,
                 false});
            in += p.in_kg, out += p.out_kg, holds += p.holds_kg;
        }
        if (rows > 1)
            table.rows.push_back(
                {"total." + group.heading,
                 {desk.words("Together"), kg(in), kg(out), kg(holds), lb(holds), tonnes(holds, book)},
                 Mark::none,
                 false,
                 true});
    }
}

void LedgerPage::show_year(Desk& desk, screens::TableView& table) const
{
    session::GasBook const& book = **m_book;
    auto const year = session::balance_of_year(book, m_year, today_of(desk));
    table.filters.push_back({"pick_year", desk.words("Year"), std::to_string(m_year), true});
    table.text =
        desk.words("User emissions by mass balance, 40 CFR 98 subpart DD. Check it against the rule in "
                   "force before you report it.");
    table.columns = {{desk.words("Term"), 3.0, false}, {"kg", 1.0, true}, {"lb", 1.0, true}};
    for (auto const& group : session::balance_groups()) {
        for (auto const& term : group.terms)
            for (auto const& [name, value] : year.terms)
                if (name == term.id)
                    table.rows.push_back(
                        {name,
                         {(term.sign * group.sign > 0 ? "+ " : "− ") + desk.words(term.label), kg(value),
                          lb(value)},
                         Mark::none,
                         false,
                         false});
        if (auto const* f = year.answer ? year.answer->find(group.figure) : nullptr)
            table.rows.push_back(
                {std::string(group.figure),
                 {(group.sign > 0 ? "+ " : "− ") + desk.words(group.label), kg(f->value), lb(f->value)},
                 Mark::none,
                 false,
                 true});
    }
    std::string notes;
    for (auto const& note : year.notes)
        notes += (notes.empty() ? "" : ". ") + desk.words.sentence(note);
    if (!year.answer) {
        table.notice = screens::VerdictView{Mark::fail, desk.words("This balance is refused"),
                                            desk.words.sentence(year.answer.error().detail), notes};
        return;
    }
    auto const* total = year.answer->find("user_emissions");
    double const emitted = total ? total->value : 0.0;
    table.rows.push_back({"user_emissions",
                          {desk.words("User emissions"), kg(emitted), lb(emitted)},
                          Mark::none,
                          false,
                          true});
    table.rows.push_back(
        {"co2e",
         {desk.words("t CO2e with GWP {} ({})", {show_short(book.gwp.value, 6), book.gwp.name}),
          tonnes(emitted, book), ""},
         Mark::none,
         false,
         false});
    if (book.closed_years.contains(m_year))
        notes += (notes.empty() ? "" : ". ") + desk.words("This year is closed with {} kg in containers.",
                                                          {kg(book.closed_years.at(m_year))});
    if (!notes.empty())
        table.text += " " + notes;
}

void LedgerPage::show_entries(Desk& desk, screens::TableView& table) const
{
    session::GasBook const& book = **m_book;
    table.text = desk.words("Tap an entry of the desk to withdraw it, an entry of an outage to go there.");
    table.columns = {{desk.words("Day"), 1.1, false},
                     {desk.words("What"), 2.0, false},
                     {desk.words("From"), 1.6, false},
                     {desk.words("To"), 1.6, false},
                     {"kg", 1.5, true}};
    table.empty = desk.words("No gas has been moved yet.");
    for (auto m = book.movements.rbegin(); m != book.movements.rend(); ++m) {
        auto const* kind = session::movement_kind(m->kind);
        std::string what = kind ? desk.words(kind->label) : m->kind;
        if (!m->outage.empty())
            what += ". " + desk.words("Outage {}", {m->outage});
        if (!m->withdrawn.empty())
            what += ". " + desk.words("Withdrawn: {}", {m->withdrawn});
        else if (!m->superseded_by.empty())
            what += ". " + desk.words("Corrected in the outage");
        else if (m->reopened)
            what += ". " + desk.words("An input was corrected: compute the account again");
        Mark const mark = !m->in_force() ? Mark::not_applicable : m->reopened ? Mark::undecided : Mark::none;
        table.rows.push_back(
            {fmt::format("entry.{}", m->entry),
             {m->day, what, desk.words.sentence(m->from), desk.words.sentence(m->to),
              m->u_kg ? fmt::format("{} ± {}", kg(m->mass_kg), kg(2.0 * *m->u_kg)) : kg(m->mass_kg)},
             mark,
             m->in_force(),
             false});
    }
}

void LedgerPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
    } else if (intent.kind == Intent::Kind::filter) {
        act_filter(desk, intent.id);
    } else if (intent.kind == Intent::Kind::row) {
        act_row(desk, intent.id);
    } else if (intent.kind == Intent::Kind::action) {
        if (intent.id == "back" || intent.id == "cancel") // what is booked by then stays booked
            go_home(desk);
        else if (intent.id == "new")
            desk.go(std::make_unique<LedgerEntryPage>());
        else if (intent.id == "files")
            write_files(desk);
        else if (intent.id == "close")
            close_year(desk);
    }
}

void LedgerPage::act_filter(Desk& desk, std::string const& id)
{
    if (id == "gwp") {
        desk.go(std::make_unique<GwpPage>());
    } else if (id == "pick_year" && m_book && *m_book) {
        auto const years = session::years_of(**m_book);
        auto const at = std::find(years.begin(), years.end(), m_year);
        if (!years.empty())
            m_year = at == years.end() || at + 1 == years.end() ? years.front() : *(at + 1);
    } else {
        m_show = id == "year" ? Show::year : id == "entries" ? Show::entries : Show::places;
    }
}

void LedgerPage::act_row(Desk& desk, std::string const& id)
{
    if (!id.starts_with("entry.") || !m_book || !*m_book)
        return;
    std::int64_t const entry = std::atoll(id.c_str() + 6);
    auto const& movements = (*m_book)->movements;
    auto const m =
        std::find_if(movements.begin(), movements.end(), [&](auto const& x) { return x.entry == entry; });
    if (m == movements.end())
        return;
    if (m->outage.empty()) {
        withdraw(desk, entry);
        return;
    }
    desk.ask(
        desk.words("Go to the outage?"),
        desk.words("This was booked by outage {}. Correct it there, and the ledger follows.", {m->outage}),
        desk.words("Go there"), [&desk, outage = m->outage, step = m->step] {
            auto opened = desk.workspace.resume(outage, {});
            if (!opened) {
                desk.report(opened.error());
                return;
            }
            desk.outage = std::move(*opened);
            desk.drafts.clear();
            desk.go(std::make_unique<StepPage>(step));
        });
}

void LedgerPage::withdraw(Desk& desk, std::int64_t entry)
{
    EntryRequest r;
    r.label = desk.words("Withdraw the entry: why?");
    r.text = true;
    r.suggestions = {desk.words("typed twice"), desk.words("wrong mass"), desk.words("wrong container")};
    r.done = [this, &desk, entry](std::string const& reason, std::string const&) {
        ask_person(desk, desk.words("Who is entering"), false,
                   [this, &desk, entry, reason](std::string const& who, bool) {
                       session::GasLedger ledger(desk.workspace);
                       if (auto const done = ledger.withdraw(entry, reason, who); !done)
                           desk.report(done.error());
                       m_book.reset();
                   });
    };
    desk.entry.open(std::move(r));
}

void LedgerPage::write_files(Desk& desk)
{
    if (!m_book || !*m_book)
        return;
    auto const files = session::write_gas_files(desk.workspace, **m_book, m_year, desk.words);
    if (!files)
        desk.report(files.error());
    else
        desk.say(desk.words("The ledger is written"), files->csv.filename().string() + "\n" +
                                                          files->pdf.filename().string() + "\n" +
                                                          files->csv.parent_path().string());
}

void LedgerPage::close_year(Desk& desk)
{
    ask_person(desk, desk.words("Who is entering"), false, [this, &desk](std::string const& who, bool) {
        session::GasLedger ledger(desk.workspace);
        if (auto const done = ledger.close_year(m_year, who); !done)
            desk.report(done.error());
        m_book.reset();
    });
}

void GwpPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame(desk, sheet);
    screens::ListView list;
    list.heading = desk.words("Which GWP?");
    list.text = desk.words(
        "Tables differ by up to a tenth. It holds for the ledger and for outages begun from now on, "
        "and each record names it.");
    auto const sources = calc::gwp_sources();
    auto const used = session::gwp_in_use(desk.workspace.journal());
    if (sources)
        for (auto const& s : *sources) {
            bool const on = used && used->id == s.id;
            list.rows.push_back({s.id, show_short(s.value, 6) + "   " + desk.words.sentence(s.name),
                                 desk.words.sentence(s.source) + (s.confirmed ? "" : ". " + desk.words("unconfirmed")),
                                 on ? desk.words("in use") : std::string(), Mark::none, true, {}, on});
        }
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void GwpPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<LedgerPage>());
    else if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::row)
        ask_person(desk, desk.words("Who is entering"), false,
                   [&desk, id = intent.id](std::string const& who, bool) {
                       session::GasLedger ledger(desk.workspace);
                       if (auto const done = ledger.choose_gwp(id, who); !done)
                           desk.report(done.error());
                   });
}

} // namespace isochore::app
