#include "app/profile_sheets.h"
#include "app/page_profile.h"
#include "model/profile_derived.h"
#include "seal/keys.h"
#include "session/stick.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::app {

using files::SignatureState;
using Keys = session::ReleaseStanding::Keys;
using screens::Mark;

namespace {

std::string shown(model::DerivedValue const& v)
{
    Unit const* unit = find_unit(v.unit, v.dimension);
    std::string const number = show_short(v.shown(), 4);
    return !unit || v.unit == "1" ? number : number + " " + std::string(unit->label());
}

/// Whose key it is by what this tablet trusts.
std::string owner_of(Desk& desk, std::string const& key, media::Trust const& trust)
{
    auto const* known = trust.find(key);
    return known ? desk.words.sentence(known->name) : desk.words("not known here");
}

std::string by_whom(Desk& desk, model::Signoff const& s, SignatureState state, media::Trust const& trust)
{
    if (state == SignatureState::fits)
        return desk.words("{}, {}, signed with key {} ({})",
                          {s.person, s.date, seal::fingerprint_of(s.key), owner_of(desk, s.key, trust)});
    if (state == SignatureState::broken)
        return desk.words("{}, {}: the signature does not fit what stands here", {s.person, s.date});
    return desk.words("{}, {}, by name only: nobody signed it", {s.person, s.date});
}

/// A fault of a known value names it itself; any other needs its place in the file.
std::string fault_text(Desk& desk, Error const& fault)
{
    std::string const path = session::fault_path(fault);
    return (model::profile_field(path) ? std::string() : path + ": ") + desk.words.sentence(fault.detail);
}

/// How the last step of its life stands: who answers for it, and whether that is signed.
screens::VerdictView standing(Desk& desk, files::LibraryEntry const& entry)
{
    auto const& p = entry.profile;
    if (!entry.faults.empty()) {
        std::string text;
        for (std::size_t i = 0; i < std::min<std::size_t>(3, entry.faults.size()); ++i)
            text += (i ? "\n" : "") + fault_text(desk, entry.faults[i]);
        return {p.status == "draft" ? Mark::undecided : Mark::fail,
                desk.words("Faults: {}", {std::to_string(entry.faults.size())}), text,
                entry.faults.size() > 3 ? desk.words("The sheet of values shows all of them.")
                                        : std::string()};
    }
    if (p.signoffs.empty())
        return {Mark::undecided,
                desk.words("A draft"),
                desk.words("No outage can take it until it is checked, and released by a second person."),
                {}};
    auto const trust = trust_for_rows(desk);
    auto const stands = session::standing_of(entry, desk.workspace.library(), trust);
    std::string const who = by_whom(desk, p.signoffs.back(), entry.signatures.back(), trust);
    if (p.status == "withdrawn")
        return {Mark::not_applicable, desk.words("Withdrawn"), who, {}};
    if (p.status == "checked")
        return {Mark::undecided, desk.words("Checked, not released"), who,
                desk.words("A second person must release it.")};
    switch (stands.keys) {
    case Keys::known:
        break;
    case Keys::unknown:
        return {Mark::undecided, desk.words("Released with a key this tablet does not know"), who,
                desk.words("No outage takes it until its key is trusted.")};
    case Keys::none:
    case Keys::broken: // a fault, said above
        return {Mark::undecided, desk.words("Released, not signed"), who,
                p.invented ? std::string()
                           : desk.words("A new outage takes it only where a person accepts that with a "
                                        "reason.")};
    }
    if (stands.withdrawn > 0)
        return {Mark::undecided, desk.words("Released, but a newer revision was withdrawn"),
                standing_text(desk, stands),
                desk.words("A new outage takes it only where a person accepts that with a reason.")};
    return {Mark::pass, desk.words("Released"), who, {}};
}

/// The chips that lead from one sheet of a profile to the next.
std::vector<screens::FilterView> sheet_tabs(Desk& desk, char const* current)
{
    std::vector<screens::FilterView> tabs;
    int number = 0;
    for (auto const& [id, name] :
         {std::pair{"summary", desk.words("Summary")}, std::pair{"values", desk.words("All values")},
          std::pair{"derived", desk.words("What follows")}, std::pair{"history", desk.words("History")}})
        tabs.push_back(
            {id, desk.words("Sheet {}", {std::to_string(++number)}), name, std::string_view(id) == current});
    return tabs;
}

screens::TableView table_of(Desk& desk, files::LibraryEntry const& entry, char const* sheet)
{
    auto const& p = entry.profile;
    screens::TableView table;
    table.heading = p.title.empty() ? p.id : p.title;
    table.text = p.id + ", " + desk.words("revision {}", {std::to_string(p.revision)}) + ", " +
                 status_word(desk, p.status);
    if (p.invented)
        table.text += ". " + desk.words("An invented model, for practice only.");
    table.filters = sheet_tabs(desk, sheet);
    table.actions = {{"back", desk.words("All profiles"), {}, false, true, false},
                     {"more", desk.words("Copy, compare…"), {}, false, true, false},
                     {"summary", desk.words("Summary"), {}, true, true, false}};
    return table;
}

/// The faults about one path, a line each.
std::string faults_about(Desk& desk, files::LibraryEntry const& entry, std::string_view path)
{
    std::string text;
    for (auto const& fault : entry.faults)
        if (session::fault_path(fault) == path)
            text += (text.empty() ? "" : "\n") + desk.words.sentence(fault.detail);
    return text;
}

std::string confidence(Desk& desk, bool confirmed)
{
    return confirmed ? desk.words("confirmed") : desk.words("unconfirmed");
}

} // namespace

screens::StepView summary_sheet(Desk& desk, files::LibraryEntry const& entry)
{
    auto const& p = entry.profile;
    auto const all = model::derive(p);
    screens::StepView v;
    v.id = "profile." + row_id(p.id, p.revision);
    v.where = p.id + ", " + desk.words("revision {}", {std::to_string(p.revision)});
    v.title = p.title.empty() ? p.id : p.title;
    v.text = in_short(p, desk.words) + ". " + desk.words("Written by {} on {}.", {p.author, p.date});
    if (p.invented)
        v.text += " " + desk.words("An invented model, for practice only.");
    auto const add = [&](char const* path, bool large) {
        auto const* found = all.find(path);
        if (!found)
            return;
        auto const& derived = *found;
        if (large)
            v.results.push_back({desk.words(derived.label), shown(derived), {}});
        else
            v.rows.push_back({desk.words(derived.label), {}, shown(derived), Mark::none});
    };
    add("gas.nominal_density", true);
    for (auto const path : {"gas.warn_density", "gas.lockout_density", "gas.liquefaction",
                            "sensor.nominal_current", "sensor.warn_current", "sensor.lockout_current",
                            "timing.interrupting_time", "gas.volume", "gas.time_to_warn"})
        add(path, false);
    v.verdict = standing(desk, entry);
    return v;
}

screens::TableView values_sheet(Desk& desk, files::LibraryEntry const& entry)
{
    auto table = table_of(desk, entry, "values");
    table.columns = {{desk.words("Value"), 1.4, false},
                     {desk.words("As written"), 1.1, false},
                     {desk.words("Source and confidence"), 2.6, false}};
    std::string_view group;
    for (auto const& field : model::profile_fields()) {
        auto const* value = entry.profile.find(field.path);
        std::string const fault = faults_about(desk, entry, field.path);
        if (!value && fault.empty())
            continue;
        if (field.group != group) {
            group = field.group;
            table.rows.push_back({"group." + std::string(group), {desk.words(field.group)}, Mark::none});
        }
        std::string source = value ? value->source : std::string();
        if (value)
            source += (source.empty() ? "" : ", ") + confidence(desk, value->confirmed);
        table.rows.push_back(
            {std::string(field.path),
             {desk.words(field.label), value ? value_text(desk, field, value->value) : desk.words("nothing"),
              fault.empty() ? source : source + (source.empty() ? "" : "\n") + fault},
             fault.empty() ? Mark::none : Mark::fail});
    }
    std::string rest;
    for (auto const& fault : entry.faults)
        if (!model::profile_field(session::fault_path(fault)))
            rest += (rest.empty() ? "" : "\n") + session::fault_path(fault) + ": " +
                    desk.words.sentence(fault.detail);
    if (!rest.empty())
        table.notice = screens::VerdictView{Mark::fail, desk.words("About the whole of it"), rest, {}};
    return table;
}

screens::TableView derived_sheet(Desk& desk, files::LibraryEntry const& entry)
{
    auto table = table_of(desk, entry, "derived");
    table.columns = {{desk.words("Follows from the values"), 1.7, false},
                     {desk.words("Amount"), 0.8, true},
                     {desk.words("How"), 2.2, false}};
    table.empty = desk.words("Nothing can be derived yet.");
    auto const all = model::derive(entry.profile);
    for (auto const& derived : all.values)
        table.rows.push_back(
            {derived.path, {desk.words(derived.label), shown(derived), desk.words.sentence(derived.from)},
             Mark::none});
    for (auto const& problem : all.problems)
        table.rows.push_back({"problem." + problem.where,
                              {problem.where, desk.words("nothing"), desk.words.sentence(problem.detail)},
                              Mark::fail});
    return table;
}

screens::TableView history_sheet(Desk& desk, files::LibraryEntry const& entry)
{
    auto table = table_of(desk, entry, "history");
    table.columns = {{desk.words("What"), 0.9, false},
                     {desk.words("Who and when"), 1.4, false},
                     {desk.words("Signature"), 1.8, false}};
    auto const trust = trust_for_rows(desk);
    auto revisions = desk.workspace.library().revisions(entry.profile.id);
    std::reverse(revisions.begin(), revisions.end());
    for (auto const* other : revisions) {
        auto const& p = other->profile;
        std::string heading =
            desk.words("Revision {}", {std::to_string(p.revision)}) + ", " + status_word(desk, p.status);
        if (p.parent > 0)
            heading += ", " + desk.words("copied from revision {}", {std::to_string(p.parent)});
        table.rows.push_back({row_id(p.id, p.revision), {heading}, Mark::none, other != &entry});
        std::string const key = fmt::format("r{}.", p.revision);
        table.rows.push_back(
            {key + "written", {desk.words("written"), p.author + ", " + p.date, {}}, Mark::none});
        auto const& states = other->signatures;
        for (std::size_t i = 0; i < states.size(); ++i) {
            auto const& s = p.signoffs[i];
            std::string const sign =
                states[i] == SignatureState::fits
                    ? desk.words("holds, key {} ({})",
                                 {seal::fingerprint_of(s.key), owner_of(desk, s.key, trust)})
                : states[i] == SignatureState::broken ? desk.words("does not fit what stands here")
                                                      : desk.words("none: by name only");
            table.rows.push_back(
                {key + s.status,
                 {s.status == "checked" ? desk.words("checked") : status_word(desk, s.status),
                  s.person + ", " + s.date, sign},
                 states[i] == SignatureState::fits     ? (trust.find(s.key) ? Mark::pass : Mark::undecided)
                 : states[i] == SignatureState::broken ? Mark::fail
                                                       : Mark::undecided});
        }
    }
    return table;
}

} // namespace isochore::app
