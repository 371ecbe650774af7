#include "app/page_stick.h"
#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using Use = media::StickTarget::Use;

void frame_stick(Desk& desk, screens::SheetView& sheet)
{
    if (desk.outage)
        frame_outage(desk, sheet, "settings");
    else
        frame_plain(sheet);
}

screens::ProgressView progress_view(Desk& desk, std::string heading, media::WriteProgress const& at)
{
    screens::ProgressView p;
    p.heading = std::move(heading);
    p.text = desk.words(media::phase_name(at.phase)) + " " + at.file;
    p.done = at.total ? static_cast<double>(at.done) / static_cast<double>(at.total) : 0.0;
    p.can_cancel = true;
    return p;
}

std::string set_time(std::string const& made_at)
{
    std::string const day = session::calendar_day(made_at);
    return made_at.size() >= 19 ? day + " " + made_at.substr(11, 8) + " UTC" : day;
}

namespace {

std::string use_word(Use use, Words const& words)
{
    switch (use) {
    case Use::ready:
        return {};
    case Use::not_mounted:
        return words("not mounted");
    case Use::read_only:
        return words("read-only");
    case Use::refused:
        return words("not usable");
    }
    return {};
}

std::string detail_of(Desk& desk, media::StickTarget const& t)
{
    if (t.use != Use::ready)
        return desk.words.sentence(t.why);
    std::string text =
        desk.words("{}, {}, {} free", {t.folder.string(), t.file_system, session::size_text(t.space.free)});
    if (t.usb && !t.usb->serial.empty())
        text += "   " + desk.words("serial {}", {t.usb->serial});
    for (auto const& warning : t.warnings)
        text += "\n" + desk.words.sentence(warning);
    return text;
}

} // namespace

void StickPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
    if (!m_found)
        m_found = m_look.look();
    screens::ListView list;
    list.heading = desk.words("Settings stick");
    list.text = desk.words("Put it in; it appears here. The set on it stays valid until a new one is whole.");
    for (std::size_t i = 0; i < m_found->targets.size(); ++i) {
        auto const& t = m_found->targets[i];
        Mark const mark = t.use != Use::ready   ? Mark::locked
                          : !t.warnings.empty() ? Mark::undecided
                                                : Mark::none;
        // A locked stick can still be read.
        bool const usable = t.use == Use::ready || t.use == Use::read_only;
        list.rows.push_back({"target." + std::to_string(i), t.name(), detail_of(desk, t),
                             use_word(t.use, desk.words), mark, usable});
    }
    list.rows.push_back(
        {"folder", desk.words("A folder"), desk.words("Type its path"), {}, Mark::none, true});
    list.rows.push_back({"units",
                         desk.words("Units"),
                         desk.words("Values prepared for units, and which go on a stick"),
                         {},
                         Mark::none,
                         true});
    list.rows.push_back({"trust",
                         desk.words("Trusted keys"),
                         desk.words("Whose sticks this tablet believes"),
                         {},
                         Mark::none,
                         true});
    if (!m_found->notes.empty()) {
        std::string notes;
        for (auto const& note : m_found->notes)
            notes += (notes.empty() ? "" : "\n") + desk.words.sentence(note);
        list.notice = screens::VerdictView{Mark::none, desk.words("How sticks are found here"), notes, {}};
    }
    list.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"again", desk.words("Look again"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void StickPage::tick(Desk&)
{
    if (m_found && m_look.changed())
        m_found.reset();
}

void StickPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action && intent.id == "again")
        m_found.reset();
    else if (intent.kind == Intent::Kind::action && desk.outage)
        desk.go(std::make_unique<StepPage>("settings.write"));
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<SettingsPage>());
    if (intent.kind != Intent::Kind::row)
        return;
    if (intent.id == "folder") {
        EntryRequest r;
        r.label = desk.words("Folder of the stick");
        r.text = true;
        if (desk.outage && desk.outage->state().stick)
            r.suggestions.push_back(desk.outage->state().stick->target);
        r.done = [this, &desk](std::string const& path, std::string const&) { take_folder(desk, path); };
        desk.entry.open(std::move(r));
    } else if (intent.id == "units") {
        desk.go(std::make_unique<UnitsPage>(nullptr));
    } else if (intent.id == "trust") {
        desk.go(std::make_unique<TrustPage>(nullptr));
    } else if (m_found && intent.id.starts_with("target.")) {
        auto const i = static_cast<std::size_t>(std::atoi(intent.id.c_str() + 7));
        if (i < m_found->targets.size())
            desk.go(std::make_unique<StickTargetPage>(
                std::make_shared<StickInHand>(StickInHand{m_found->targets[i], true, {}, {}})));
    }
}

void StickPage::take_folder(Desk& desk, std::string const& path)
{
    auto const view = media::SystemView::of_this_machine();
    auto const target =
        view ? media::folder_target(*view, path) : Result<media::StickTarget>(tl::unexpected(view.error()));
    if (!target)
        desk.report(target.error());
    else
        desk.go(std::make_unique<StickTargetPage>(
            std::make_shared<StickInHand>(StickInHand{*target, false, {}, {}})));
}

} // namespace isochore::app
