#include "app/page_profile.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using Origin = session::ListedUnit::Origin;
using Kind = model::ProfileField::Kind;

EntryRequest entry_for(Desk& desk, std::string_view label, Kind kind, Dimension dimension,
                       std::vector<std::string> const& choices, std::string const& typed)
{
    EntryRequest r;
    r.label = label;
    if (kind == Kind::amount) {
        auto const split = typed.find(' ');
        r.typed = typed.substr(0, split);
        if (split != std::string::npos)
            r.unit = typed.substr(split + 1);
        for (Unit const& unit : all_units())
            if (unit.dimension == dimension && !unit.name.empty()) {
                if (dimension != Dimension::pressure) {
                    r.units.emplace_back(unit.name);
                    continue;
                }
                for (char const* reference : {" abs", " g"})
                    r.units.push_back(std::string(unit.name) + reference);
            }
        // What is there already comes first; more than these do not fit the keypad.
        constexpr std::size_t most_units = 6;
        if (!r.unit.empty())
            std::stable_partition(r.units.begin(), r.units.end(),
                                  [&](std::string const& name) { return name == r.unit; });
        if (r.units.size() > most_units)
            r.units.resize(most_units);
        r.judge = [&desk, dimension, name = std::string(label)](std::string const& whole) {
            auto const amount = parse_amount(whole, dimension, name);
            return EntryJudgement{amount ? whole : std::string(),
                                  amount ? std::string() : desk.words.sentence(amount.error().detail),
                                  {}};
        };
        return r;
    }
    if (kind == Kind::whole) {
        r.typed = typed;
        return r;
    }
    r.text = true;
    r.typed = typed;
    r.suggestions = choices;
    return r;
}

namespace {

std::string in_use(std::string_view path, session::ListedUnit const& unit)
{
    auto const* setting = unit.settings.find(path);
    return setting ? setting->value : std::string();
}

/// A value of the unit beside the profile's, with what is wrong in words.
screens::TableRow value_row(Desk& desk, media::UnitField const& field, session::ListedUnit const& unit,
                            bool editable)
{
    std::string problem, profile = unit.profile ? unit.profile->text(field.path) : std::string();
    for (auto const& c : unit.settings.conflicts)
        if (c.path == field.path) {
            problem = desk.words.sentence(c.detail);
            profile = c.profile_value; // where the two are not of one path: a tap and the full winding
        }
    for (auto const& m : unit.settings.missing)
        if (m.where == field.path)
            problem = desk.words.sentence(m.detail);
    std::string const own = unit.values.text(field.path);
    return {
        std::string(field.path),
        {desk.words.sentence(field.label), desk.words.sentence(own), desk.words.sentence(profile), problem},
        !problem.empty() ? Mark::fail
        : own.empty()    ? Mark::none
                         : Mark::pass,
        editable};
}

/// Every contradiction, since its row may be out of sight; what is missing is seen by its empty row.
std::string in_the_way(Desk& desk, session::ListedUnit const& unit)
{
    std::string text;
    for (auto const& c : unit.settings.conflicts)
        text += (text.empty() ? "" : "\n") + desk.words.sentence(c.detail);
    return text.empty() ? desk.words.sentence(unit.problem) : text;
}

} // namespace

UnitPage::UnitPage(Stick stick, std::optional<session::ListedUnit> unit)
    : m_stick(std::move(stick)), m_unit(std::move(unit))
{
}

bool UnitPage::editable() const
{
    return m_unit && m_unit->origin == Origin::desk;
}

void UnitPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
    if (!m_unit) {
        screens::ListView list;
        list.heading = desk.words("Which breaker model is the unit for?");
        m_finder.fill(desk, list, [&desk](files::LibraryEntry const& entry, media::Trust const& trust) {
            return entry.faults.empty() ? std::optional(library_row(desk, entry, trust)) : std::nullopt;
        });
        list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
        sheet.list = std::move(list);
        return;
    }
    auto const& unit = *m_unit;
    std::string const serial = unit.values.text("unit.serial");
    screens::TableView table;
    // Another heading begins at the top: there it is said why it is not ready, whatever row was just entered.
    table.heading = serial.empty() ? desk.words("New unit")
                    : unit.ready() ? desk.words("Unit {}", {serial})
                                   : desk.words("Unit {}, not ready", {serial});
    table.text = desk.words("{} revision {}, {}",
                            {unit.values.profile_id, std::to_string(unit.values.profile_revision),
                             unit.profile ? status_word(desk, unit.profile->status) : std::string("–")});
    if (!unit.ready())
        table.notice = screens::VerdictView{
            Mark::undecided, desk.words("Not ready for a stick"), in_the_way(desk, unit), {}};
    table.columns = {{desk.words("Value"), 1.5},
                     {desk.words("This unit"), 1.3},
                     {desk.words("Profile"), 1.1},
                     {desk.words("What is wrong"), 2.2}};
    table.rows.push_back({"unit",
                          {editable() ? desk.words("This unit's own values: tap to enter")
                                      : desk.words("This unit's own values")}});
    // What is no value of the unit by itself: that its values were taken for another revision.
    for (auto const& c : unit.settings.conflicts)
        if (!media::unit_field(c.path))
            table.rows.push_back({"conflict." + c.path,
                                  {desk.words.sentence(c.label), desk.words.sentence(c.unit_value),
                                   desk.words.sentence(c.profile_value), desk.words.sentence(c.detail)},
                                  Mark::fail});
    for (auto const& field : media::unit_fields())
        if (editable() || !unit.values.text(field.path).empty() || field.required)
            table.rows.push_back(value_row(desk, field, unit, editable()));
    table.rows.push_back({"profile", {desk.words("From the profile and worked out from it")}});
    for (auto const& s : unit.settings.settings)
        if (s.origin != media::Setting::Origin::unit)
            table.rows.push_back(
                {s.path, {desk.words.sentence(s.label), {}, desk.words.sentence(in_use(s.path, unit)), {}}});
    table.actions = {{"back", desk.words("Back"), {}, false, true, false}};
    if (editable())
        table.actions.push_back({"remove", desk.words("Remove"), {}, false, true, false});
    table.actions.push_back({"copy", desk.words("Another like it"), {}, !m_stick, true, false});
    if (m_stick) {
        bool const on = m_stick->chosen.contains(unit.id);
        table.actions.push_back({"choose",
                                 on ? desk.words("Leave it off") : desk.words("Put it on the stick"),
                                 {},
                                 true,
                                 on || unit.ready(),
                                 false});
    }
    sheet.table = std::move(table);
}

void UnitPage::store(Desk& desk, media::UnitValues values)
{
    std::string const id = m_unit && m_unit->origin == Origin::desk ? m_unit->id.substr(5) : std::string();
    auto const who = desk.outage ? desk.outage->who() : std::string();
    auto const stored =
        session::UnitStore(desk.workspace.journal()).set(id, values, who, desk.workspace.clock().now());
    if (!stored) {
        desk.report(stored.error());
        return;
    }
    auto unit = session::kept_unit(desk.workspace, *stored);
    if (unit)
        m_unit = std::move(*unit);
    else
        desk.report(unit.error());
}

void UnitPage::edit(Desk& desk, std::string const& path)
{
    auto const* field = media::unit_field(path);
    if (!field)
        return;
    std::vector<std::string> suggestions(field->choices.begin(), field->choices.end());
    if (path == "ct.ratio" && m_unit->profile)
        suggestions.push_back(m_unit->profile->text("ct.full_ratio"));
    auto r = entry_for(desk, desk.words.sentence(field->label), field->kind, field->dimension, suggestions,
                       m_unit->values.text(path));
    r.context = m_unit->values.text("unit.serial");
    r.done = [this, &desk, path](std::string const& typed, std::string const& unit) {
        auto values = m_unit->values;
        values.values[path] = unit.empty() ? typed : typed + " " + unit;
        store(desk, std::move(values));
    };
    desk.entry.open(std::move(r));
}

/// The next unit of a row of equal ones: everything but what is different on each.
void UnitPage::copy(Desk& desk)
{
    auto values = m_unit->values;
    values.job.clear();
    for (char const* own : {"unit.serial", "sensor.serial", "breaker.serial", "station.bay"})
        values.values.erase(own);
    m_unit.reset();
    store(desk, std::move(values));
}

void UnitPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
    } else if (intent.kind == Intent::Kind::row && !m_unit) {
        if (auto const* p = desk.workspace.find_profile(of_row(intent.id).first))
            store(desk, {{}, p->profile.id, p->profile.revision, {}});
    } else if (intent.kind == Intent::Kind::field && !m_unit) {
        m_finder.search(desk);
    } else if (intent.kind == Intent::Kind::row && editable()) {
        edit(desk, intent.id);
    } else if (intent.kind == Intent::Kind::action && intent.id == "copy") {
        copy(desk);
    } else if (intent.kind == Intent::Kind::action && intent.id == "choose") {
        if (m_stick->chosen.erase(m_unit->id) == 0)
            m_stick->chosen.insert(m_unit->id);
        desk.go(std::make_unique<UnitsPage>(m_stick));
    } else if (intent.kind == Intent::Kind::action && intent.id == "remove") {
        desk.ask(desk.words("Remove this unit?"),
                 desk.words("Its values stay in the history; it is listed no more."), desk.words("Remove"),
                 [this, &desk] {
                     auto const who = desk.outage ? desk.outage->who() : std::string();
                     auto const done = session::UnitStore(desk.workspace.journal())
                                           .remove(m_unit->id.substr(5), who, desk.workspace.clock().now());
                     if (!done)
                         desk.report(done.error());
                     if (m_stick)
                         m_stick->chosen.erase(m_unit->id);
                     desk.go(std::make_unique<UnitsPage>(m_stick));
                 });
    } else if (intent.kind == Intent::Kind::action) {
        desk.go(std::make_unique<UnitsPage>(m_stick));
    }
}

} // namespace isochore::app
