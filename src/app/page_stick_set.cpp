#include "app/page_step.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include <algorithm>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using State = media::SetSummary::State;

void StickSetPage::read(Desk& desk)
{
    auto trust = session::tablet_trust(desk.workspace);
    if (!trust) {
        m_found = Found{tl::unexpected(trust.error()), {}};
        return;
    }
    m_work.start([trust = std::move(*trust), folder = m_stick->target.folder, set = m_set,
                  &disk = desk.workspace.disk()](media::Progress const&) {
        Found found{media::verify_set(disk, folder, set, trust), {}};
        if (!found.set)
            if (auto const sets = media::list_sets(disk, folder, trust))
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
}

void StickSetPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
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
                Mark::fail, desk.words("This set is refused"), e.where + ": " + e.detail, {}};
        }
        list.empty = desk.words("Nothing of it was taken over; what this tablet has is unchanged.");
        sheet.list = std::move(list);
        return;
    }
    auto const& set = *m_found->set;
    list.text = desk.words("{}, signed by {}, key {}",
                           {set_time(set.made_at), set.signed_by, media::key_fingerprint(set.key)});
    auto const content = media::read_content(set);
    for (auto const& e : content.report.errors)
        list.rows.push_back({e.where, e.where, e.detail, desk.words("refused"), Mark::fail, false});
    for (auto const& [file, p] : content.profiles)
        list.rows.push_back({file, desk.words("Profile {}", {p.title.empty() ? p.id : p.title}),
                             desk.words("{} revision {}, {}", {p.id, std::to_string(p.revision), p.status}),
                             file, Mark::pass, false});
    for (auto const& [file, u] : content.units)
        list.rows.push_back(
            {file, desk.words("Unit {}", {u.text("unit.serial")}),
             u.text("station.name") + "  " + u.text("station.bay") + "  " + u.text("ct.ratio"), file,
             Mark::pass, false});
    bool const whole = content.report.ok();
    if (m_imported) {
        std::string text;
        for (auto const* part : {&m_imported->profiles, &m_imported->units})
            for (auto const& name : *part)
                text += (text.empty() ? "" : ", ") + name;
        list.notice = screens::VerdictView{Mark::pass,
                                           text.empty() ? desk.words("All of it was here already")
                                                        : desk.words("Taken over"),
                                           text,
                                           {}};
    } else if (!whole) {
        list.notice = screens::VerdictView{
            Mark::fail,
            desk.words("This set is refused"),
            desk.words("A file in it does not pass its own check. Nothing of it is taken."),
            {}};
    } else if (set.stale) {
        list.notice = screens::VerdictView{Mark::undecided,
                                           desk.words("The set on it is stale"),
                                           set.notes.empty() ? std::string() : set.notes.back(),
                                           {}};
    } else {
        list.notice = screens::VerdictView{Mark::pass,
                                           desk.words("Every file has the hash its signed list gives"),
                                           desk.words("{} files", {std::to_string(set.files.size())}),
                                           {}};
    }
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
    auto done = session::import_set(desk.workspace, *m_found->set, who, stale_accepted);
    if (!done) {
        desk.report(done.error());
        return;
    }
    m_imported = std::move(*done);
}

void StickSetPage::trust_key(Desk& desk)
{
    std::string const key = m_found->unknown_key;
    Question q;
    q.title = desk.words("Trust this key?");
    q.text =
        media::key_fingerprint(key) + "\n\n" +
        desk.words("Ring up its owner. He reads his fingerprint, you compare it group by group. Only if all "
                   "four groups agree, go on. A person with a PIN answers for it.");
    q.actions = {{"cancel", desk.words("Back"), {}, false, true, false},
                 {"yes", desk.words("It agrees"), {}, true, true, false}};
    q.answered = [this, &desk, key](std::string const& answer) {
        if (answer != "yes")
            return;
        EntryRequest r;
        r.label = desk.words("Whose key is it?");
        r.context = media::key_fingerprint(key);
        r.text = true;
        r.done = [this, &desk, key](std::string const& name, std::string const&) {
            ask_person(desk, desk.words("Who decides this?"), true,
                       [this, &desk, key, name](std::string const& by, bool) {
                           auto const done = session::TrustStore(desk.workspace.journal())
                                                 .add(key, name, by, desk.workspace.clock().now());
                           if (!done)
                               desk.report(done.error());
                           m_found.reset(); // read anew with what is trusted now
                       });
        };
        desk.entry.open(std::move(r));
    };
    desk.question = std::move(q);
}

void StickSetPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    if (intent.kind != Intent::Kind::action)
        return;
    if (intent.id == "trust" && m_found && !m_found->unknown_key.empty())
        trust_key(desk);
    else if (intent.id == "import" && m_found && m_found->set)
        import(desk, false);
    else if (intent.id == "back")
        desk.go(std::make_unique<StickTargetPage>(m_stick));
}

} // namespace isochore::app
