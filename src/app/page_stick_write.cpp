#include "app/page_step.h"
#include "app/page_stick.h"
#include "app/pages.h"

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

Result<void> look_for_room(media::StickTarget const& target, std::vector<media::SetFile> const& files)
{
    std::uint64_t bytes = 0;
    for (auto const& file : files)
        bytes += file.bytes.size();
    return media::check_room(target, bytes, files.size());
}

} // namespace

void StickWritePage::start(Desk& desk)
{
    m_begun = true;
    m_problem.clear();
    m_outcome.reset();
    auto const& chosen = m_stick->chosen;
    // This outage's alone needs no look at any other.
    if (desk.outage && chosen.size() == 1 && *chosen.begin() == "outage:" + desk.outage->job())
        write(desk, [files = session::stick_files(*desk.outage)] { return files; });
    else
        m_listing.emplace(desk.workspace, desk.outage.get(), m_stick->content ? &*m_stick->content : nullptr,
                          chosen);
}

/// The files are put together beside the window too: there may be thousands.
void StickWritePage::write(Desk& desk, std::function<Result<std::vector<media::SetFile>>()> files)
{
    auto work = session::prepare_stick(desk.workspace, {}, m_stick->target.folder, m_stick->removable);
    if (!work) {
        m_problem = desk.fault(work.error());
        return;
    }
    m_work.start([work = std::move(*work), files = std::move(files), target = m_stick->target,
                  &disk = desk.workspace.disk()](media::Progress const& progress) mutable {
        session::StickOutcome refused;
        auto made = files();
        if (made)
            if (auto const room = look_for_room(target, *made); !room)
                made = tl::unexpected(room.error());
        if (!made) {
            refused.error = made.error();
            return refused;
        }
        work.files = std::move(*made);
        return session::do_stick(disk, work, progress);
    });
}

void StickWritePage::look(Desk& desk)
{
    look_for_a_moment(*m_listing);
    if (!m_listing->finished())
        return;
    auto units = m_listing->take();
    m_listing.reset();
    if (!units) {
        m_problem = desk.fault(units.error());
        return;
    }
    write(desk, [units = std::move(*units)] { return session::stick_files(units); });
}

void StickWritePage::tick(Desk& desk)
{
    if (!m_begun)
        start(desk);
    if (m_listing)
        look(desk);
    auto outcome = m_work.take();
    if (!outcome)
        return;
    m_outcome = std::move(*outcome);
    if (!m_outcome->before.empty())
        m_before = m_outcome->before, m_before_at = m_outcome->before_made_at;
    if (!m_outcome->set)
        return;
    if (desk.outage)
        if (auto const entered = session::enter_stick(*desk.outage, m_stick->target.folder, *m_outcome->set);
            !entered)
            m_problem = desk.words.sentence(entered.error().detail);
    if (auto const seen =
            session::TrustStore(desk.workspace.journal()).see(*m_outcome->set, desk.workspace.clock().now());
        !seen)
        desk.report(seen.error());
}

void StickWritePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
    if (m_listing) {
        sheet.progress = listing_progress(desk, *m_listing);
        return;
    }
    if (m_work.running() || !m_begun) {
        sheet.progress = progress_view(desk, desk.words("Writing and reading back"), m_work.at());
        return;
    }
    screens::ListView list;
    list.text = m_stick->target.name();
    if (m_outcome && m_outcome->set && m_problem.empty()) {
        auto const& set = *m_outcome->set;
        auto const& away = m_outcome->away;
        list.heading = desk.words("Set {} is written", {set.set});
        list.notice = screens::VerdictView{
            away.safe ? Mark::pass : Mark::undecided,
            away.safe ? desk.words("Safe to remove") : desk.words("Verified. Do not pull it yet"),
            desk.words("{} files read back past the cache, signed with key {}.",
                       {std::to_string(set.files.size()), media::key_fingerprint(set.key)}),
            desk.words.sentence(away.say)};
        for (auto const& f : set.files)
            list.rows.push_back(
                {f.name, f.name,
                 desk.words("{} bytes, hash as in the manifest", {std::to_string(f.bytes.size())}),
                 desk.words("verified"), Mark::pass, false});
        for (auto const& note : m_outcome->notes)
            list.rows.push_back({"note", desk.words.sentence(note), {}, {}, Mark::none, false});
        list.actions = {{"back", desk.words("Another target"), {}, false, true, false},
                        {"done", desk.words("Go on"), {}, true, true, false}};
        sheet.list = std::move(list);
        return;
    }
    list.heading = desk.words("No new set was completed");
    std::string const why = !m_problem.empty() ? m_problem
                            : m_outcome        ? desk.fault(*m_outcome->error)
                                               : std::string();
    list.notice = screens::VerdictView{Mark::fail, desk.words("The write stopped"), why, {}};
    if (!m_outcome || !m_outcome->begun)
        list.rows.push_back({"before",
                             desk.words("Nothing on it was touched"),
                             desk.words("What it held before it still holds."),
                             {},
                             Mark::none,
                             false});
    else if (m_before.empty())
        list.rows.push_back({"before",
                             desk.words("No valid set was found on it before"),
                             desk.words("What was begun is ignored by every reader."),
                             {},
                             Mark::none,
                             false});
    else
        list.rows.push_back({"before", desk.words("{} of {} stays valid", {m_before, set_time(m_before_at)}),
                             m_outcome && m_outcome->before_verified
                                 ? desk.words("Read again just now: every hash as listed.")
                                 : desk.words("It was not touched. It could not be read again just now: put "
                                              "the stick in and look."),
                             m_outcome && m_outcome->before_verified ? desk.words("verified") : std::string(),
                             m_outcome && m_outcome->before_verified ? Mark::pass : Mark::undecided, false});
    list.rows.push_back(
        {"next",
         desk.words("To go on"),
         desk.words("Put the stick in again, wait until it is mounted, then write again. A new "
                    "number is taken; nothing is overwritten."),
         {},
         Mark::none,
         false});
    list.actions = {{"back", desk.words("Another target"), {}, false, true, false},
                    {"look", desk.words("Look at the stick"), {}, false, true, false},
                    {"write", desk.words("Write again"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void StickWritePage::act(Desk& desk, Intent const& intent)
{
    if (m_work.running() || m_listing) {
        if (intent.kind != Intent::Kind::action || intent.id != "cancel")
            return;
        m_work.cancel();
        if (m_listing) {
            m_listing.reset();
            m_problem = desk.words("It was cancelled before anything was written.");
        }
        return;
    }
    if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    if (intent.kind != Intent::Kind::action)
        return;
    if (intent.id == "write")
        start(desk);
    else if (intent.id == "look")
        desk.go(std::make_unique<StickTargetPage>(m_stick));
    else if (intent.id == "done" && desk.outage)
        desk.go(std::make_unique<StepPage>("settings.write"));
    else
        desk.go(std::make_unique<StickPage>());
}

} // namespace isochore::app
