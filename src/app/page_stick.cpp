#include "app/page_stick.h"
#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"

namespace isochore::app {

using screens::Intent;
using screens::Mark;

StickPage::~StickPage()
{
    m_shared.cancel = true;
    if (m_worker.joinable())
        m_worker.join();
}

void StickPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_outage(desk, sheet, "settings");
    if (m_worker.joinable()) {
        screens::ProgressView p;
        p.heading = desk.words("Writing and reading back");
        std::lock_guard const guard(m_shared.lock);
        auto const& at = m_shared.progress;
        p.text = desk.words(media::phase_name(at.phase)) + " " + at.file;
        p.done = at.total ? static_cast<double>(at.done) / static_cast<double>(at.total) : 0.0;
        p.can_cancel = true;
        sheet.progress = std::move(p);
        return;
    }
    screens::ListView list;
    list.heading = desk.words("Write the stick");
    if (m_written) {
        list.text = m_target;
        list.notice = screens::VerdictView{
            Mark::pass,
            desk.words("Written, read back, signed"),
            desk.words("Set {}, {} files. Take the stick out only after the system says so.",
                       {m_written->set, std::to_string(m_written->files.size())}),
            {}};
        for (auto const& f : m_written->files)
            list.rows.push_back(
                {f.name, f.name,
                 desk.words("{} bytes, hash as in the manifest", {std::to_string(f.bytes.size())}),
                 desk.words("verified"), Mark::pass, false});
        list.actions = {{"back", desk.words("Another target"), {}, false, true, false},
                        {"done", desk.words("Go on"), {}, true, true, false}};
        sheet.list = std::move(list);
        return;
    }
    list.text = desk.words(
        "The profile and this unit's own values. The set before it stays valid until the new one is whole.");
    if (!m_problem.empty())
        list.notice = screens::VerdictView{Mark::fail, desk.words("Nothing was written"), m_problem, {}};
    if (!m_targets)
        m_targets = session::stick_targets();
    for (auto const& t : *m_targets)
        list.rows.push_back(
            {t.path, t.title, t.detail, desk.words(t.side), t.usable ? Mark::none : Mark::locked, t.usable});
    list.rows.push_back(
        {"folder", desk.words("A folder"), desk.words("Type its path"), {}, Mark::none, true});
    list.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"again", desk.words("Look again"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void StickPage::act(Desk& desk, Intent const& intent)
{
    if (m_worker.joinable()) {
        if (intent.kind == Intent::Kind::action && intent.id == "cancel")
            m_shared.cancel = true;
        return;
    }
    if (intent.kind == Intent::Kind::row && intent.id == "folder")
        type_folder(desk);
    else if (intent.kind == Intent::Kind::row)
        start(desk, intent.id);
    else if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action && intent.id == "again")
        m_targets.reset();
    else if (intent.kind == Intent::Kind::action && intent.id == "back" && m_written)
        m_written.reset();
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<StepPage>("settings.write"));
}

void StickPage::type_folder(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Folder to write to");
    r.text = true;
    if (desk.outage->state().stick)
        r.suggestions.push_back(desk.outage->state().stick->target);
    r.done = [this, &desk](std::string const& path, std::string const&) { start(desk, path); };
    desk.entry.open(std::move(r));
}

void StickPage::start(Desk& desk, std::string const& target)
{
    m_problem.clear();
    auto files = session::stick_files(*desk.outage);
    auto signer = session::tablet_signer(desk.workspace);
    auto trust = session::tablet_trust(desk.workspace);
    for (Error const* e : {files ? nullptr : &files.error(), signer ? nullptr : &signer.error(),
                           trust ? nullptr : &trust.error()})
        if (e) {
            m_problem = e->where + ": " + e->detail;
            return;
        }
    m_target = target;
    m_shared.cancel = false;
    m_shared.done = false;
    m_shared.result.reset();
    std::string const made_at = session::utc_stamp(desk.workspace.clock().now());
    m_worker = std::thread([this, files = std::move(*files), signer = std::move(*signer),
                            trust = std::move(*trust), made_at, target, &disk = desk.workspace.disk()] {
        auto const written =
            media::write_set(disk, target, files, signer, made_at, [this](auto const& progress) {
                std::lock_guard const guard(m_shared.lock);
                m_shared.progress = progress;
                return !m_shared.cancel.load();
            });
        // What counts is what a reader finds there now, not what the writer believes.
        auto result = written ? media::verify_set(disk, target, written->set, trust)
                              : Result<media::VerifiedSet>(tl::unexpected(written.error()));
        std::lock_guard const guard(m_shared.lock);
        m_shared.result = std::move(result);
        m_shared.done = true;
    });
}

void StickPage::tick(Desk& desk)
{
    if (!m_worker.joinable() || !m_shared.done)
        return;
    m_worker.join();
    auto& result = *m_shared.result;
    if (!result) {
        m_problem = result.error().where + ": " + result.error().detail;
        return;
    }
    if (auto const entered = session::enter_stick(*desk.outage, m_target, *result); !entered) {
        m_problem = entered.error().detail;
        return;
    }
    m_written = std::move(*result);
}

} // namespace isochore::app
