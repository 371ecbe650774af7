#include "app/outage_frame.h"
#include "app/page_ledger.h"
#include "app/page_parts.h"
#include "app/page_prepare.h"
#include "app/page_sign.h"
#include "app/page_step.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "session/job_pack.h"
#include "json/member.h"

namespace isochore::app {

using screens::Intent;

namespace {

void undo(Desk& desk)
{
    Json const* last = desk.outage->to_take_back();
    if (!last) {
        desk.say(desk.words("There is nothing to take back"),
                 desk.words("What went out on a stick, was signed, or came before a newer revision is "
                            "corrected, not taken back."));
        return;
    }
    desk.ask(desk.words("Take back the last entry?"), desk.outage->describe(*last, desk.words),
             desk.words("Take it back"), [&desk] {
                 auto const done = desk.outage->undo();
                 if (!done)
                     desk.report(done.error());
                 else
                     go_home(desk);
             });
}

void print_pack(Desk& desk)
{
    auto const file = session::write_job_pack(desk.workspace, *desk.outage, desk.words);
    if (!file)
        desk.report(file.error());
    else
        desk.say(desk.words("The job pack is written"),
                 file->filename().string() + "\n" + file->parent_path().string());
}

void archive(Desk& desk)
{
    bool const away = !desk.outage->state().archived;
    desk.ask(
        away ? desk.words("Archive this outage?") : desk.words("Take it out of the archive?"),
        away ? desk.words("It leaves the list of outages in hand and can be read, not written, until it is "
                          "taken out again. Nothing is deleted.")
             : desk.words("Entries can be made again, unless the record is sealed."),
        away ? desk.words("Archive it") : desk.words("Take it out"), [&desk, away] {
            auto const done = away ? desk.outage->archive() : desk.outage->unarchive();
            if (!done) {
                desk.report(done.error());
                return;
            }
            if (away)
                desk.outage.reset();
            go_home(desk);
        });
}

void change_person(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Who is entering");
    r.text = true;
    r.suggestions = desk.outage->state().crew;
    r.done = [&desk](std::string const& name, std::string const&) {
        if (name == desk.outage->who())
            return;
        if (auto const noted = desk.outage->hand_over(name); !noted)
            desk.report(noted.error());
    };
    desk.entry.open(std::move(r));
}

} // namespace

void MenuPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
        return;
    }
    if (intent.kind == Intent::Kind::action) {
        go_home(desk);
        return;
    }
    if (intent.kind != Intent::Kind::row)
        return;
    if (intent.id == "steps")
        desk.go(std::make_unique<JumpPage>());
    else if (intent.id == "entries")
        desk.go(std::make_unique<EntriesPage>());
    else if (intent.id == "undo")
        undo(desk);
    else if (intent.id == "who")
        change_person(desk);
    else if (intent.id == "kit")
        desk.go(std::make_unique<PreparePage>());
    else if (intent.id == "parts")
        desk.go(std::make_unique<PartsPage>());
    else if (intent.id == "archive" || intent.id == "unarchive")
        archive(desk);
    else if (intent.id == "move")
        desk.go(std::make_unique<MovePage>());
    else if (intent.id == "pack")
        print_pack(desk);
    else if (intent.id == "ledger")
        desk.go(std::make_unique<LedgerPage>());
    else if (intent.id == "stick")
        desk.go(std::make_unique<StickPage>());
    else if (intent.id == "review")
        desk.go(std::make_unique<SignPage>());
    else if (intent.id == "settings")
        desk.go(std::make_unique<SettingsPage>());
    else if (intent.id == "about")
        desk.go(std::make_unique<AboutPage>());
    else if (intent.id == "jobs") {
        desk.outage.reset();
        desk.go(std::make_unique<JobsPage>());
    }
}

void EntriesPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_outage(desk, sheet, {});
    screens::ListView list;
    list.heading = desk.words("All entries");
    auto const& bodies = desk.outage->bodies();
    for (std::size_t i = bodies.size(); i-- > 0;) {
        Json const& body = bodies[i];
        std::string const at = text_member(body, "at");
        list.rows.push_back(
            {std::to_string(i), desk.outage->describe(body, desk.words),
             session::calendar_day(at) + " " + session::clock_time(at) + "   " + text_member(body, "who"),
             std::to_string(i), screens::Mark::none, body.contains("step")});
    }
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void EntriesPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row) {
        auto const i = static_cast<std::size_t>(std::atoll(intent.id.c_str()));
        if (i < desk.outage->bodies().size())
            desk.go(std::make_unique<StepPage>(text_member(desk.outage->bodies()[i], "step")));
    } else if (intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
    } else if (intent.kind == Intent::Kind::action) {
        go_home(desk);
    }
}

} // namespace isochore::app
