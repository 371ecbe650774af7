#include "app/page_profile.h"
#include "app/page_step.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include <algorithm>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using State = media::SetSummary::State;

namespace {

/// Where in the set it is: the sheet says already which set of which stick.
Error within_set(Error error, std::string const& set)
{
    auto const at = error.where.find(set + "/");
    if (at != std::string::npos)
        error.where.erase(0, at + set.size() + 1);
    return error;
}

} // namespace

void StickSetPage::read(Desk& desk)
{
    auto trust = session::tablet_trust(desk.workspace);
    if (!trust) {
        m_found = Found{tl::unexpected(trust.error()), {}, {}};
        return;
    }
    m_work.start([trust = std::move(*trust), folder = m_stick->target.folder, set = m_set,
                  &disk = desk.workspace.disk()](media::Progress const&) {
        Found found{media::verify_set(disk, folder, set, trust), {}, {}};
        if (found.set)
            found.content = media::read_content(*found.set);
        else if (auto const sets = media::list_sets(disk, folder, trust))
            for (auto const& s : *sets)
                if (s.set == set && s.state == State::untrusted)
                    found.unknown_key = s.key;
        return found;
    });
}

void StickSetPage::tick(Desk& desk)
{
    if (!m_found && !m_work.running())
        read(desk);
    if (auto found = m_work.take())
        m_found = std::move(*found);
    if (auto stored = m_storing.take()) {
        auto done = *stored ? session::enter_import(desk.workspace, *m_plan)
                            : Result<session::ImportedSet>(tl::unexpected(stored->error()));
        m_plan.reset();
        if (done)
            m_imported = std::move(*done);
        else
            desk.report(done.error());
    }
}

screens::VerdictView StickSetPage::notice(Desk& desk) const
{
    auto const& set = *m_found->set;
    if (m_imported) {
        std::string text;
        for (auto const* part : {&m_imported->profiles, &m_imported->units})
            for (auto const& name : *part)
                text += (text.empty() ? "" : ", ") + name;
        return {Mark::pass,
                text.empty() ? desk.words("All of it was here already") : desk.words("Taken over"),
                text,
                {}};
    }
    if (!m_found->content.report.ok())
        return {Mark::fail,
                desk.words("This set is refused"),
                desk.words("A file in it does not pass its own check. Nothing of it is taken."),
                {}};
    if (set.stale)
        return {Mark::undecided,
                desk.words("The set on it is stale"),
                set.notes.empty() ? std::string() : desk.words.sentence(set.notes.back()),
                {}};
    return {Mark::pass,
            desk.words("Every file has the hash its signed list gives"),
            desk.words("{} files", {std::to_string(set.files.size())}),
            {}};
}

void StickSetPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
    if (m_storing.running()) {
        sheet.progress = progress_view(desk, desk.words("Taking it over"), m_storing.at());
        return;
    }
    screens::ListView list;
    list.heading = desk.words("Set {}", {m_set});
    list.text = m_stick->target.name();
    list.actions = {{"back", desk.words("Back"), {}, false, true, false}};
    if (!m_found) {
        list.empty = desk.words("Reading what is on it …");
        sheet.list = std::move(list);
        return;
    }
    if (!m_found->set) {
        Error const& e = m_found->set.error();
        if (!m_found->unknown_key.empty()) {
            list.notice = screens::VerdictView{
                Mark::undecided, desk.words("Signed by a key this tablet does not know"),
                desk.words("Fingerprint {}", {media::key_fingerprint(m_found->unknown_key)}),
                desk.words("The signature holds, but anyone can make a key. Have its owner "
                           "read the fingerprint to you.")};
            list.actions.push_back({"trust", desk.words("Trust this key"), {}, true, true, false});
        } else {
            list.notice = screens::VerdictView{
                Mark::fail, desk.words("This set is refused"), desk.fault(within_set(e, m_set)), {}};
        }
        list.empty = desk.words("Nothing of it was taken over; what this tablet has is unchanged.");
        sheet.list = std::move(list);
        return;
    }
    auto const& set = *m_found->set;
    list.text =
        desk.words("{}, signed by {}, key {}", {set_time(set.made_at), desk.words.sentence(set.signed_by),
                                                media::key_fingerprint(set.key)});
    auto const& content = m_found->content;
    for (auto const& e : content.report.errors)
        list.rows.push_back(
            {e.where, e.where, desk.words.sentence(e.detail), desk.words("refused"), Mark::fail, false});
    for (auto const& [file, p] : content.profiles)
        list.rows.push_back({file, desk.words("Profile {}", {p.title.empty() ? p.id : p.title}),
                             desk.words("{} revision {}, {}",
                                        {p.id, std::to_string(p.revision), status_word(desk, p.status)}),
                             file, Mark::pass, false});
    for (auto const& [file, u] : content.units)
        list.rows.push_back(
            {file, desk.words("Unit {}", {u.text("unit.serial")}),
             u.text("station.name") + "  " + u.text("station.bay") + "  " + u.text("ct.ratio"), file,
             Mark::pass, false});
    list.notice = notice(desk);
    bool const whole = content.report.ok();
    list.actions.push_back({"import", desk.words("Take it over"), {}, true, whole && !m_imported, false});
    sheet.list = std::move(list);
}

void StickSetPage::import(Desk& desk, bool stale_accepted)
{
    if (m_found->set->stale && !stale_accepted) {
        desk.ask(
            desk.words("Take over a stale set?"),
            desk.words(
                "A newer set of this key was seen on this tablet. Values may have been corrected since."),
            desk.words("Take it over"), [this, &desk] { import(desk, true); });
        return;
    }
    auto const who = desk.outage ? desk.outage->who() : std::string();
    auto plan = session::plan_import(desk.workspace, *m_found->set, who, stale_accepted);
    if (!plan) {
        desk.report(plan.error());
        return;
    }
    m_plan = std::move(*plan);
    m_storing.start([plan = *m_plan, data = desk.workspace.folders().data,
                     &disk = desk.workspace.disk()](media::Progress const& progress) {
        return session::store_import(disk, data, plan, progress);
    });
}

void StickSetPage::act(Desk& desk, Intent const& intent)
{
    if (m_storing.running()) {
        if (intent.kind == Intent::Kind::action && intent.id == "cancel")
            m_storing.cancel();
        return;
    }
    if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    if (intent.kind != Intent::Kind::action)
        return;
    if (intent.id == "trust" && m_found && !m_found->unknown_key.empty())
        ask_to_trust(desk, m_found->unknown_key, [this] { m_found.reset(); }); // read anew
    else if (intent.id == "import" && m_found && m_found->set)
        import(desk, false);
    else if (intent.id == "back")
        desk.go(std::make_unique<StickTargetPage>(m_stick));
}

} // namespace isochore::app
