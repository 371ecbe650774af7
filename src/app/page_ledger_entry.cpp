#include "app/outage_frame.h"
#include "app/page_ledger.h"
#include "app/pages.h"
#include "session/clock.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

/// Names already in the ledger, newest first: the same cylinder must not get two spellings.
std::vector<std::string> names_known(Desk& desk, session::PlaceKind kind)
{
    std::vector<std::string> names;
    session::GasLedger ledger(desk.workspace);
    auto const book = ledger.book();
    if (!book)
        return names;
    for (auto const& place : session::balances(*book))
        if (place.kind == kind && names.size() < 6)
            names.push_back(place.place);
    return names;
}

} // namespace

void LedgerEntryPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    if (desk.outage)
        frame_outage(desk, sheet, {});
    else
        frame_plain(sheet);
    auto const* kind = session::movement_kind(m_typed.kind);
    if (!kind) {
        screens::ListView list;
        list.heading = desk.words("What happened to the gas?");
        for (auto const& k : session::movement_kinds())
            if (k.desk)
                list.rows.push_back({std::string(k.id), desk.words(k.label), {}, {}, Mark::none, true});
        list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
        sheet.list = std::move(list);
        return;
    }
    if (m_typed.day.empty())
        m_typed.day = session::calendar_day(session::stamp(desk.workspace.clock().now()));
    if (m_who.empty() && desk.outage)
        m_who = desk.outage->who();
    screens::FormView form;
    form.heading = desk.words(kind->label);
    form.text =
        desk.words("An entry is never changed. A wrong one is withdrawn with a reason and entered anew.");
    auto const field = [&](char const* id, std::string label, std::string const& typed, std::string hint) {
        form.fields.push_back({id, std::move(label), typed, {}, false, std::move(hint), {}});
    };
    field("mass", desk.words("Mass of gas"), m_typed.mass, {});
    if (!kind->from_label.empty())
        field("from", desk.words(kind->from_label), m_typed.from, {});
    if (!kind->to_label.empty())
        field("to", desk.words(kind->to_label), m_typed.to, {});
    field("day", desk.words("Day"), m_typed.day, desk.words("year, month, day"));
    field("who", desk.words("Who is entering"), m_who, {});
    field("note", desk.words("Note"), m_typed.note, desk.words("delivery note, reason; may stay empty"));
    if (!m_problem.empty())
        form.verdict = screens::VerdictView{Mark::undecided, desk.words("Not yet"), m_problem, {}};
    form.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"add", desk.words("Enter it"), {}, true, true, false}};
    sheet.form = std::move(form);
}

void LedgerEntryPage::type_field(Desk& desk, std::string const& id)
{
    auto const* kind = session::movement_kind(m_typed.kind);
    EntryRequest r;
    r.context = desk.words(kind->label);
    std::string* into = nullptr;
    if (id == "mass") {
        r.label = desk.words("Mass of gas");
        r.units = {"kg", "lb", "g"};
        r.unit = "kg";
        r.judge = [&desk](std::string const& whole) {
            auto const mass = parse_amount(whole, Dimension::mass, "mass");
            return EntryJudgement{mass ? show_amount(mass->si, si_unit(Dimension::mass), 6) : std::string(),
                                  mass ? std::string() : desk.words.sentence(mass.error().detail),
                                  {}};
        };
        r.done = [this](std::string const& typed, std::string const& unit) {
            m_typed.mass = typed + " " + unit;
            m_problem.clear();
        };
        desk.entry.open(std::move(r));
        return;
    }
    r.text = true;
    if (id == "from" || id == "to") {
        bool const from = id == "from";
        into = from ? &m_typed.from : &m_typed.to;
        r.label = desk.words(from ? kind->from_label : kind->to_label);
        r.suggestions = names_known(desk, from ? kind->from : kind->to);
    } else if (id == "day") {
        into = &m_typed.day;
        r.label = desk.words("Day");
    } else if (id == "who") {
        into = &m_who;
        r.label = desk.words("Who is entering");
        if (desk.outage)
            r.suggestions = desk.outage->state().crew;
    } else {
        into = &m_typed.note;
        r.label = desk.words("Note");
    }
    r.typed = *into;
    r.done = [this, into](std::string const& typed, std::string const&) {
        *into = typed;
        m_problem.clear();
    };
    desk.entry.open(std::move(r));
}

void LedgerEntryPage::add(Desk& desk)
{
    session::GasLedger ledger(desk.workspace);
    if (auto const added = ledger.add(m_typed, m_who); !added)
        m_problem = desk.words.sentence(added.error().detail);
    else
        desk.go(std::make_unique<LedgerPage>(LedgerPage::Show::entries));
}

void LedgerEntryPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
    } else if (intent.kind == Intent::Kind::row) {
        m_typed.kind = intent.id;
    } else if (intent.kind == Intent::Kind::field) {
        type_field(desk, intent.id);
    } else if (intent.kind == Intent::Kind::action) {
        if (intent.id == "add")
            add(desk);
        else if (!m_typed.kind.empty())
            m_typed = {}, m_problem.clear();
        else
            desk.go(std::make_unique<LedgerPage>());
    }
}

} // namespace isochore::app
