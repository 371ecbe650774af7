#include "app/page_step.h"
#include "app/page_stick.h"
#include "app/pages.h"

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using State = media::SetSummary::State;
using Use = media::StickTarget::Use;

namespace {

Mark mark_of_set(State state)
{
    switch (state) {
    case State::valid:
        return Mark::pass;
    case State::untrusted:
    case State::unfinished:
        return Mark::undecided;
    case State::refused:
        return Mark::fail;
    }
    return Mark::fail;
}

std::string identity(Desk& desk, media::StickTarget const& t)
{
    std::string text;
    if (t.usb)
        text = desk.words("USB {}, serial {}", {t.usb->vendor + " " + t.usb->product,
                                                t.usb->serial.empty() ? desk.words("none") : t.usb->serial}) +
               "   ";
    if (t.size)
        text += session::size_text(t.size) + "   ";
    if (!t.file_system.empty())
        text += t.file_system + "   ";
    text += desk.words("{} free", {session::size_text(t.space.free)}) + "   " + t.folder.string();
    return text;
}

} // namespace

void StickTargetPage::read(Desk& desk)
{
    auto trust = session::tablet_trust(desk.workspace);
    if (!trust) {
        m_found = Found{tl::unexpected(trust.error()), tl::unexpected(trust.error()), {}, {}};
        return;
    }
    m_reading.start([trust = std::move(*trust), folder = m_stick->target.folder,
                     &disk = desk.workspace.disk()](media::Progress const&) {
        Found found{media::list_sets(disk, folder, trust), media::newest_valid_set(disk, folder, trust),
                    trust.keys, std::nullopt};
        if (found.newest)
            found.content = media::read_content(*found.newest);
        return found;
    });
}

void StickTargetPage::tick(Desk& desk)
{
    if (!m_found && !m_reading.running())
        read(desk);
    if (auto found = m_reading.take()) {
        m_found = std::move(*found);
        if (m_found->newest) {
            m_stick->content = std::move(m_found->content);
            // An older set of the same engineer is stale from now on.
            if (auto const seen = session::TrustStore(desk.workspace.journal())
                                      .see(*m_found->newest, desk.workspace.clock().now());
                !seen)
                desk.report(seen.error());
        }
    }
    if (auto checked = m_checking.take())
        m_checked = std::move(*checked);
    if (auto const away = m_releasing.take()) {
        desk.say(away->safe ? desk.words("Safe to remove") : desk.words("Do not pull it yet"),
                 desk.words.sentence(away->say));
        if (away->safe)
            desk.go(std::make_unique<StickPage>());
    }
}

/// A slow stick takes long to take in what is still in memory.
void StickTargetPage::release(Desk&)
{
    m_releasing.start([folder = m_stick->target.folder, removable = m_stick->removable](auto const&) {
        return session::put_away(folder, removable);
    });
}

std::vector<screens::ListRow> StickTargetPage::set_rows(Desk& desk) const
{
    std::vector<screens::ListRow> rows;
    if (!m_found->sets)
        return rows;
    for (auto const& s : *m_found->sets) {
        std::string title = s.set;
        if (!s.made_at.empty())
            title += "   " + set_time(s.made_at);
        std::string detail = s.state == State::valid
                                 ? desk.words("{} files, signed by {}",
                                              {std::to_string(s.files), desk.words.sentence(s.signed_by)})
                                 : desk.words.sentence(s.why);
        if (s.stale)
            detail += "\n" + desk.words("Older than the one this tablet saw, of {}", {set_time(s.seen)});
        bool const newest = m_found->newest && m_found->newest->set == s.set;
        rows.push_back(
            {"set." + s.set, std::move(title), std::move(detail),
             newest ? desk.words("in force") : desk.words(media::state_name(s.state)),
             s.stale || (newest && m_found->newest->stale) ? Mark::undecided : mark_of_set(s.state), true});
    }
    return rows;
}

std::optional<screens::VerdictView> StickTargetPage::notice(Desk& desk) const
{
    auto const& t = m_stick->target;
    if (m_checked) {
        if (!*m_checked)
            return screens::VerdictView{Mark::undecided,
                                        desk.words("The capacity was not checked"),
                                        desk.words.sentence(m_checked->error().detail),
                                        {}};
        return screens::VerdictView{(*m_checked)->honest ? Mark::pass : Mark::fail,
                                    (*m_checked)->honest ? desk.words("It keeps what it is given")
                                                         : desk.words("It loses what it is given"),
                                    desk.words.sentence((*m_checked)->say),
                                    {}};
    }
    if (t.use == Use::read_only)
        return screens::VerdictView{
            Mark::locked, desk.words("It can be read, not written"), desk.words.sentence(t.why), {}};
    if (!t.warnings.empty()) {
        std::string text;
        for (auto const& warning : t.warnings)
            text += (text.empty() ? "" : "\n") + desk.words.sentence(warning);
        return screens::VerdictView{Mark::undecided, desk.words("Look at this stick first"), text, {}};
    }
    if (m_found->newest && m_found->newest->stale) {
        std::string text;
        for (auto const& key : m_found->trusted)
            if (key.key == m_found->newest->key && key.newest_seen > m_found->newest->made_at)
                text = desk.words("Of {}; this tablet has seen one of {} from the same key.",
                                  {set_time(m_found->newest->made_at), set_time(key.newest_seen)});
        if (text.empty() && !m_found->newest->refused.empty())
            text = m_found->newest->refused.front().set + ": " +
                   desk.words.sentence(m_found->newest->refused.front().error.detail);
        return screens::VerdictView{Mark::undecided, desk.words("The set on it is stale"), text,
                                    desk.words("Find out where the newer one is before you load this.")};
    }
    if (!m_found->sets && m_found->sets.error().code != Error::Code::not_found)
        return screens::VerdictView{Mark::fail,
                                    desk.words("It cannot be read"),
                                    desk.words.sentence(m_found->sets.error().detail),
                                    {}};
    return std::nullopt;
}

void StickTargetPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
    if (m_checking.running()) {
        sheet.progress = progress_view(desk, desk.words("Writing and reading back to check the capacity"),
                                       m_checking.at());
        return;
    }
    if (m_releasing.running()) {
        sheet.progress = progress_view(desk, desk.words("Putting the stick away"),
                                       {media::WriteProgress::Phase::flushing, 0, 0, {}});
        sheet.progress->can_cancel = false;
        return;
    }
    auto const& t = m_stick->target;
    screens::ListView list;
    list.heading = m_stick->removable ? t.name() : desk.words("Folder {}", {t.folder.filename().string()});
    list.text = identity(desk, t);
    if (!m_found) {
        list.empty = desk.words("Reading what is on it …");
        list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
        sheet.list = std::move(list);
        return;
    }
    if (m_stick->chosen.empty() && desk.outage)
        m_stick->chosen.insert("outage:" + desk.outage->job());
    list.notice = notice(desk);
    list.rows = set_rows(desk);
    if (list.rows.empty())
        list.rows.push_back({"none", desk.words("No set is on it yet"), {}, {}, Mark::none, false});
    std::size_t const count = m_stick->chosen.size();
    list.rows.push_back(
        {"units",
         desk.words("Units to write"),
         count ? desk.words("{} chosen", {std::to_string(count)}) : desk.words("Choose at least one"),
         {},
         Mark::none,
         true});
    if (t.use == Use::ready)
        list.rows.push_back({"check",
                             desk.words("Check its capacity"),
                             desk.words("Fills and reads back a part of it; can be cancelled"),
                             {},
                             Mark::none,
                             true});
    if (m_stick->removable)
        list.rows.push_back({"release",
                             desk.words("Put the stick away"),
                             desk.words("Before it is pulled"),
                             {},
                             Mark::none,
                             true});
    list.actions = {
        {"back", desk.words("Another target"), {}, false, true, false},
        {"again", desk.words("Look again"), {}, false, true, false},
        {"write", desk.words("Write a new set"), {}, true, t.use == Use::ready && count > 0, false}};
    sheet.list = std::move(list);
}

void StickTargetPage::offer_check(Desk& desk)
{
    std::uint64_t const free = m_stick->target.space.free;
    Question q;
    q.title = desk.words("How much is to be checked?");
    q.text = desk.words("It proves only as much as it writes. All that is free can take an hour.");
    q.actions = {{"cancel", desk.words("Back"), {}, false, true, false},
                 {"all", desk.words("All: {}", {session::size_text(free)}), {}, false, free > 0, false},
                 {"some", desk.words("{} only", {"32 MB"}), {}, true, free > 0, false}};
    q.answered = [this, &desk, free](std::string const& answer) {
        if (answer != "all" && answer != "some")
            return;
        std::uint64_t const bytes = answer == "all" ? free : std::min<std::uint64_t>(free, 32'000'000);
        auto const seed = static_cast<std::uint64_t>(desk.workspace.clock().now().utc_ms);
        m_checked.reset();
        m_checking.start([bytes, seed, folder = m_stick->target.folder,
                          &disk = desk.workspace.disk()](media::Progress const& progress) {
            return media::check_capacity(disk, folder, bytes, seed, progress);
        });
    };
    desk.question = std::move(q);
}

void StickTargetPage::act(Desk& desk, Intent const& intent)
{
    if (m_releasing.running())
        return;
    if (m_checking.running()) {
        if (intent.kind == Intent::Kind::action && intent.id == "cancel")
            m_checking.cancel();
        return;
    }
    if (intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
    } else if (intent.kind == Intent::Kind::action && intent.id == "write") {
        desk.go(std::make_unique<StickWritePage>(m_stick));
    } else if (intent.kind == Intent::Kind::action && intent.id == "again") {
        m_checked.reset();
        if (!m_reading.running())
            m_found.reset();
    } else if (intent.kind == Intent::Kind::action) {
        desk.go(std::make_unique<StickPage>());
    } else if (intent.kind == Intent::Kind::row && intent.id.starts_with("set.")) {
        desk.go(std::make_unique<StickSetPage>(m_stick, intent.id.substr(4)));
    } else if (intent.kind == Intent::Kind::row && intent.id == "units") {
        desk.go(std::make_unique<UnitsPage>(m_stick));
    } else if (intent.kind == Intent::Kind::row && intent.id == "check") {
        offer_check(desk);
    } else if (intent.kind == Intent::Kind::row && intent.id == "release") {
        release(desk);
    }
}

} // namespace isochore::app
