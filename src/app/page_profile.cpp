#include "app/page_profile.h"
#include "app/outage_frame.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "app/profile_sheets.h"
#include "model/profile_lifecycle.h"
#include "session/profile_picture.h"
#include "session/profile_step.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

/// What the next step of its life is called on the button.
std::string step_label(Desk& desk, std::string_view status)
{
    auto const next = model::next_status(status);
    if (next == "checked")
        return desk.words("Say it is checked");
    if (next == "released")
        return desk.words("Release it");
    return next == "withdrawn" ? desk.words("Withdraw it") : std::string();
}

std::string step_meaning(Desk& desk, std::string_view next)
{
    if (next == "checked")
        return desk.words(
            "You have held every value against its source. From here on nothing in this revision "
            "can change.");
    if (next == "released")
        return desk.words(
            "Crews may work to these limits. You are neither the author nor the one who checked "
            "it.");
    return desk.words("No new outage can take it any more. Outages that began with it keep it.");
}

/// Withdrawing the newest release leaves an older one in its place: that is said before it is done.
std::string what_takes_its_place(Desk& desk, files::LibraryEntry const& entry)
{
    int older = 0;
    for (auto const* other : desk.workspace.library().revisions(entry.profile.id))
        if (other->profile.status == "released" && other->profile.revision < entry.profile.revision)
            older = other->profile.revision;
    bool const newest = desk.workspace.library().released(entry.profile.id) == &entry;
    if (!newest || older == 0)
        return {};
    return "\n\n" +
           desk.words("Revision {} is older and still released: a new outage would take that, after a "
                      "person accepts it. Withdraw it too if it must not be used.",
                      {std::to_string(older)});
}

screens::ListView more_view(Desk& desk, files::LibraryEntry const& entry)
{
    auto const& p = entry.profile;
    screens::ListView list;
    list.heading = p.title;
    list.text = desk.words("revision {}", {std::to_string(p.revision)}) + ", " + status_word(desk, p.status);
    if (p.status == "draft")
        list.rows.push_back({"edit",
                             desk.words("Go on with this draft"),
                             desk.words("Change its values, sources and confidence."),
                             {},
                             Mark::none,
                             true});
    auto const standing = session::standing_of(entry, desk.workspace.library(), trust_for_rows(desk));
    if (!standing.unknown.empty())
        list.rows.push_back({"trust",
                             desk.words("Trust the key it is signed with"),
                             desk.words("Fingerprint {}", {media::key_fingerprint(standing.unknown.front())}),
                             {},
                             Mark::undecided,
                             true});
    list.rows.push_back({"copy",
                         desk.words("Copy as a new revision"),
                         desk.words("This one stays as it is. The copy names it as its parent."),
                         {},
                         Mark::none,
                         true});
    list.rows.push_back({"compare",
                         desk.words("Compare with another"),
                         desk.words("Physical differences first: densities, not the way they are written."),
                         {},
                         Mark::none,
                         true});
    if (p.parent > 0 && desk.workspace.find_profile(p.id, p.parent))
        list.rows.push_back({"parent",
                             desk.words("Compare with its parent"),
                             desk.words("revision {}", {std::to_string(p.parent)}),
                             {},
                             Mark::none,
                             true});
    list.rows.push_back({"export",
                         desk.words("Export it"),
                         desk.words("One file, to a stick or a folder, read back after writing."),
                         {},
                         Mark::none,
                         true});
    list.actions = {{"less", desk.words("Back"), {}, true, true, false}};
    return list;
}

} // namespace

void ProfilePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space)
{
    frame_plain(sheet);
    auto const* entry = desk.workspace.find_profile(m_id, m_revision);
    if (!entry) {
        screens::ListView list;
        list.heading = m_id;
        list.empty = desk.words("No profile found.");
        list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
        sheet.list = std::move(list);
        return;
    }
    m_revision = entry->profile.revision;
    if (m_more) {
        sheet.list = more_view(desk, *entry);
        return;
    }
    if (m_sheet != "summary") {
        sheet.table = m_sheet == "values"    ? values_sheet(desk, *entry)
                      : m_sheet == "derived" ? derived_sheet(desk, *entry)
                                             : history_sheet(desk, *entry);
        return;
    }
    sheet.step = summary_sheet(desk, *entry);
    if (space.width_mm > 0.0 && space.height_mm > 0.0)
        sheet.step->picture = session::profile_picture(entry->profile, {space.width_mm, space.height_mm},
                                                       desk.measure, desk.words.for_pictures());
    std::string const& status = entry->profile.status;
    bool const final_step = status != "draft"; // what follows cannot be taken back
    bool const may = status != "withdrawn" && (entry->faults.empty() || status == "released");
    sheet.step->actions = {{"back", desk.words("Back"), {}, false, true, false},
                           {"values", desk.words("All values"), {}, false, true, false},
                           {"more", desk.words("Copy, compare…"), {}, false, true, false}};
    if (status != "withdrawn")
        sheet.step->actions.push_back({"step", step_label(desk, status),
                                       final_step ? desk.words("hold") : std::string(), status != "released",
                                       may, final_step});
    sheet.open_panel = m_panel;
}

void ProfilePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::filter)
        m_sheet = intent.id;
    else if (intent.kind == Intent::Kind::panel)
        m_panel = intent.id == m_panel ? std::string() : intent.id;
    else if (intent.kind == Intent::Kind::row)
        act_row(desk, intent.id);
    else if (intent.kind == Intent::Kind::action)
        act_action(desk, intent.id);
}

void ProfilePage::act_row(Desk& desk, std::string const& row)
{
    if (row == "edit") {
        auto draft = session::edit_draft(desk.workspace, m_id, m_revision);
        if (draft)
            desk.go(std::make_unique<ProfileEditPage>(std::move(*draft)));
        else
            desk.report(draft.error());
    } else if (row == "copy") {
        copy(desk);
    } else if (row == "compare") {
        desk.go(std::make_unique<ProfileComparePage>(m_id, m_revision));
    } else if (row == "trust") {
        auto const* entry = desk.workspace.find_profile(m_id, m_revision);
        auto const standing =
            entry ? session::standing_of(*entry, desk.workspace.library(), trust_for_rows(desk))
                  : session::ReleaseStanding{};
        if (!standing.unknown.empty())
            ask_to_trust(desk, standing.unknown.front(), [this] { m_more = false; });
    } else if (row == "parent") {
        if (auto const* entry = desk.workspace.find_profile(m_id, m_revision))
            desk.go(std::make_unique<ProfileComparePage>(m_id, entry->profile.parent, m_id, m_revision));
    } else if (row == "export") {
        desk.go(std::make_unique<ProfileTransferPage>(m_id, m_revision));
    } else if (row.find(':') != std::string::npos) { // another revision in the history
        m_revision = of_row(row).second;
        m_sheet = "summary";
    }
}

void ProfilePage::act_action(Desk& desk, std::string const& action)
{
    if (action == "values")
        m_sheet = "values";
    else if (action == "more")
        m_more = true;
    else if (action == "less")
        m_more = false;
    else if (action == "step")
        take_step(desk);
    else if (action == "summary")
        m_sheet = "summary";
    else
        desk.go(std::make_unique<LibraryPage>());
}

void ProfilePage::copy(Desk& desk)
{
    ask_person(desk, desk.words("Who writes the new revision?"), false,
               [&desk, id = m_id, revision = m_revision](std::string const& name, bool) {
                   auto draft = session::draft_of_revision(desk.workspace, id, revision, name);
                   if (draft)
                       if (auto const kept = session::keep_draft(desk.workspace, *draft); !kept)
                           draft = tl::unexpected(kept.error());
                   if (draft)
                       desk.go(std::make_unique<ProfileEditPage>(std::move(*draft)));
                   else
                       desk.report(draft.error());
               });
}

void ProfilePage::take_step(Desk& desk)
{
    auto const* entry = desk.workspace.find_profile(m_id, m_revision);
    if (!entry)
        return;
    std::string const to(model::next_status(entry->profile.status));
    std::string const label = step_label(desk, entry->profile.status);
    auto const proven = [&desk, id = m_id, revision = m_revision, to](std::string const& name, bool) {
        auto const people = seal::People(desk.workspace.journal()).all();
        if (!people) {
            desk.report(people.error());
            return;
        }
        for (auto const& person : *people)
            if (!person.withdrawn && person.name == name) {
                if (auto const taken = session::take_step(desk.workspace, id, revision, to, person); !taken)
                    desk.report(taken.error());
                return;
            }
    };
    std::string const after = to == "withdrawn" ? what_takes_its_place(desk, *entry) : std::string();
    desk.ask(label, step_meaning(desk, to) + after, label,
             [&desk, label, proven] { ask_person(desk, label, true, proven); });
}

} // namespace isochore::app
