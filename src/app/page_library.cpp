#include "app/outage_frame.h"
#include "app/page_profile.h"
#include "app/pages.h"
#include "session/stick.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

bool same_filter(files::LibraryFilter const& a, files::LibraryFilter const& b)
{
    return a.text == b.text && a.facets == b.facets && a.newest_only == b.newest_only;
}

screens::ListRow draft_row(Desk& desk, session::ProfileDraft const& draft)
{
    auto const& p = draft.profile;
    std::string const name = p.title.empty() ? p.text("breaker.model", draft.name) : p.title;
    return {"draft." + draft.name,
            name,
            desk.words("Values so far: {}. Tap to go on; nothing typed was lost.",
                       {std::to_string(p.values.size())}),
            desk.words("half done"),
            Mark::deferred,
            true};
}

} // namespace

std::string row_id(std::string_view id, int revision)
{
    return fmt::format("{}:{}", id, revision);
}

std::pair<std::string, int> of_row(std::string const& row)
{
    auto const colon = row.rfind(':');
    if (colon == std::string::npos)
        return {row, 0};
    return {row.substr(0, colon), std::atoi(row.c_str() + colon + 1)};
}

std::string status_word(Desk& desk, std::string_view status)
{
    if (status == "checked")
        return desk.words("checked, not released");
    if (status == "released")
        return desk.words("released");
    if (status == "withdrawn")
        return desk.words("withdrawn");
    return desk.words("draft");
}

namespace {

using Keys = session::ReleaseStanding::Keys;

Mark mark_of_entry(files::LibraryEntry const& entry, session::ReleaseStanding const& standing)
{
    auto const& status = entry.profile.status;
    if (status == "withdrawn")
        return Mark::not_applicable;
    if (!entry.faults.empty())
        return status == "draft" ? Mark::undecided : Mark::fail;
    if (status != "released")
        return Mark::open;
    if (standing.practice) // nothing but practice comes of an invented model, signed or not
        return Mark::none;
    return standing.keys == Keys::known ? Mark::pass : Mark::undecided;
}

std::string standing_word(Desk& desk, files::LibraryEntry const& entry,
                          session::ReleaseStanding const& standing)
{
    if (entry.profile.status == "released" && standing.keys == Keys::none)
        return desk.words("released, not signed");
    if (entry.profile.status == "released" && standing.keys == Keys::unknown)
        return desk.words("released, key not known");
    return status_word(desk, entry.profile.status);
}

} // namespace

std::string standing_text(Desk& desk, session::ReleaseStanding const& standing)
{
    std::string text;
    for (auto const& sentence : standing.sentences())
        text += (text.empty() ? "" : " ") + desk.words.sentence(sentence);
    return text;
}

media::Trust trust_for_rows(Desk& desk)
{
    auto trust = session::tablet_trust(desk.workspace);
    if (trust)
        return std::move(*trust);
    desk.report(trust.error());
    return {};
}

std::string value_text(Desk& desk, model::ProfileField const& field, std::string const& value)
{
    return field.choices.empty() ? value : desk.words.sentence(value);
}

std::string in_short(model::Profile const& profile, Words const& words)
{
    std::string text;
    for (auto const path : {"breaker.mechanism", "rating.voltage", "gas.species", "rating.frequency",
                            "rating.interrupting_cycles"})
        if (auto const value = profile.text(path); !value.empty())
            text += (text.empty() ? "" : ", ") + words.sentence(value);
    return text;
}

screens::ListRow library_row(Desk& desk, files::LibraryEntry const& entry, media::Trust const& trust)
{
    auto const& p = entry.profile;
    auto const& library = desk.workspace.library();
    auto const standing = session::standing_of(entry, library, trust);
    std::string detail = in_short(p, desk.words);
    auto const add = [&](std::string const& text) { detail += (detail.empty() ? "" : ". ") + text; };
    if (!entry.faults.empty())
        add(desk.words("faults: {}", {std::to_string(entry.faults.size())}));
    auto const* released = library.released(p.id);
    if (p.status == "withdrawn" && entry.newest && released)
        add(desk.words("A new outage would take the older revision {}, and asks first",
                       {std::to_string(released->profile.revision)}));
    return {row_id(p.id, p.revision),
            p.title.empty() ? p.id : p.title,
            detail,
            standing_word(desk, entry, standing) + "\n" +
                desk.words("revision {}", {std::to_string(p.revision)}),
            mark_of_entry(entry, standing),
            true};
}

screens::VerdictView unreadable_profiles(Desk& desk)
{
    auto const& errors = desk.workspace.library().errors;
    Error const& first = errors.front();
    return {Mark::fail,
            desk.words("Left out, because they cannot be read: {}", {std::to_string(errors.size())}),
            desk.fault(first),
            {}};
}

/// Searches only when the library, the words or the facets are other ones than those shown.
void LibraryPage::look_up(Desk& desk)
{
    auto const& library = desk.workspace.library();
    files::LibraryFilter filter = desk.library_filter;
    if (m_typing && desk.entry.is_open())
        filter.text = *m_typing;
    else
        m_typing.reset();
    if (m_reading == desk.workspace.library_reading() && same_filter(filter, m_shown))
        return;
    m_reading = desk.workspace.library_reading();
    m_shown = filter;
    m_facets = files::facets(library, filter);
    auto const found = files::search(library, filter);
    m_found = found.size();
    m_all = files::search(library, {}).size();
    m_rows.clear();
    for (auto const& draft : session::kept_drafts(desk.workspace))
        m_rows.push_back(draft_row(desk, draft));
    auto const trust = trust_for_rows(desk);
    for (auto const* entry : found) {
        if (m_rows.size() >= most_profile_rows)
            break;
        m_rows.push_back(library_row(desk, *entry, trust));
    }
}

screens::ListView LibraryPage::values_of_facet(Desk& desk) const
{
    screens::ListView list;
    for (auto const& facet : m_facets)
        if (facet.path == m_facet) {
            list.heading = desk.words(facet.label);
            list.rows.push_back({"any", desk.words("any"), {}, {}, Mark::none, true});
            for (auto const& [value, count] : facet.values)
                list.rows.push_back({"value." + value,
                                     facet.path == "status" ? status_word(desk, value) : desk.words.sentence(value),
                                     {},
                                     std::to_string(count),
                                     Mark::none,
                                     true});
        }
    list.text = desk.words("Beside each stands how many profiles it would leave.");
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    return list;
}

void LibraryPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    look_up(desk);
    if (!m_facet.empty()) {
        sheet.list = values_of_facet(desk);
        return;
    }
    screens::ListView list;
    list.heading = desk.words("Profiles");
    list.text = desk.words("{} of {} models. Every limit says where it comes from.",
                           {std::to_string(m_found), std::to_string(m_all)});
    list.searchable = true;
    list.search = m_shown.text;
    list.empty = desk.words("No profile found.");
    auto const& chosen = desk.library_filter.facets;
    for (auto const& facet : m_facets) {
        auto const it = chosen.find(facet.path);
        bool const on = it != chosen.end();
        std::string value = desk.words("any");
        if (on)
            value = facet.path == "status" ? status_word(desk, it->second) : desk.words.sentence(it->second);
        list.filters.push_back({facet.path, desk.words(facet.label), value, on});
    }
    bool const all = !desk.library_filter.newest_only;
    list.filters.push_back(
        {"revisions", desk.words("Revisions"), all ? desk.words("all") : desk.words("newest"), all});
    list.rows = m_rows;
    if (m_found > most_profile_rows)
        list.rows.push_back(more_profiles_row(desk, m_found));
    if (!desk.workspace.library().errors.empty())
        list.notice = unreadable_profiles(desk);
    list.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"export", desk.words("Export these"), {}, false, m_found > 0, false},
                    {"import", desk.words("Import"), {}, false, true, false},
                    {"new", desk.words("New from a nameplate"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void LibraryPage::search(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Search");
    r.context = desk.words("name, maker, mechanism, voltage, gas, status");
    r.text = true;
    r.typed = desk.library_filter.text;
    r.may_be_empty = true;
    m_typing = r.typed;
    r.changed = [this](std::string const& typed) { m_typing = typed; };
    r.judge = [this, &desk](std::string const&) {
        return EntryJudgement{desk.words("found: {}", {std::to_string(m_found)}), {}, {}};
    };
    r.done = [this, &desk](std::string const& typed, std::string const&) {
        desk.library_filter.text = typed;
        m_typing.reset();
    };
    desk.entry.open(std::move(r));
}

void LibraryPage::act(Desk& desk, Intent const& intent)
{
    auto& facets = desk.library_filter.facets;
    if (!m_facet.empty()) {
        if (intent.kind == Intent::Kind::row) {
            facets.erase(m_facet);
            if (intent.id.starts_with("value."))
                facets[m_facet] = intent.id.substr(6);
        }
        if (intent.kind == Intent::Kind::row || intent.kind == Intent::Kind::action)
            m_facet.clear();
    } else if (intent.kind == Intent::Kind::filter && intent.id == "revisions") {
        desk.library_filter.newest_only = !desk.library_filter.newest_only;
    } else if (intent.kind == Intent::Kind::filter) {
        m_facet = intent.id;
    } else if (intent.kind == Intent::Kind::row && intent.id.starts_with("draft.")) {
        for (auto& draft : session::kept_drafts(desk.workspace))
            if ("draft." + draft.name == intent.id) {
                desk.go(std::make_unique<ProfileEditPage>(std::move(draft)));
                return;
            }
    } else if (intent.kind == Intent::Kind::row && intent.id != "more") {
        auto const [id, revision] = of_row(intent.id);
        desk.go(std::make_unique<ProfilePage>(id, revision));
    } else if (intent.kind == Intent::Kind::field) {
        search(desk);
    } else if (intent.kind == Intent::Kind::action && intent.id == "new") {
        ask_person(desk, desk.words("Who writes this profile?"), false,
                   [&desk](std::string const& name, bool) {
                       desk.go(std::make_unique<ProfileEditPage>(session::new_draft(desk.workspace, name)));
                   });
    } else if (intent.kind == Intent::Kind::action && intent.id == "import") {
        desk.go(std::make_unique<ProfileTransferPage>());
    } else if (intent.kind == Intent::Kind::action && intent.id == "export") {
        desk.go(std::make_unique<ProfileTransferPage>("*"));
    } else if (intent.kind == Intent::Kind::action) {
        desk.go(std::make_unique<JobsPage>());
    }
}

} // namespace isochore::app
