#include "app/page_stick.h"
#include "app/pages.h"

namespace isochore::app {

using screens::Intent;
using screens::Mark;

void TrustPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
    screens::ListView list;
    list.heading = desk.words("Trusted keys");
    list.text =
        desk.words("Sticks signed by these are taken. Tap one to stop trusting it. An unknown key is asked "
                   "about when its stick is read.");
    auto const keys = session::known_keys(desk.workspace);
    if (!keys)
        list.notice = screens::VerdictView{Mark::fail,
                                           desk.words("The keys cannot be read"),
                                           keys.error().where + ": " + keys.error().detail,
                                           {}};
    else
        for (auto const& k : *keys) {
            std::string detail = desk.words("Fingerprint {}", {media::key_fingerprint(k.key.key)});
            if (!k.own)
                detail += "   " + desk.words("trusted by {} on {}",
                                             {k.added_by, session::calendar_day(k.key.added_on)});
            if (!k.key.newest_seen.empty())
                detail += "\n" + desk.words("Newest set seen: {}", {set_time(k.key.newest_seen)});
            list.rows.push_back({k.key.key, k.own ? desk.words("This tablet") : k.key.name, std::move(detail),
                                 k.own ? desk.words("always") : desk.words("trusted"), Mark::pass, !k.own});
        }
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void TrustPage::remove(Desk& desk, std::string const& key)
{
    desk.ask(desk.words("Stop trusting this key?"), media::key_fingerprint(key),
             desk.words("Stop trusting it"), [&desk, key] {
                 ask_person(desk, desk.words("Who decides this?"), true,
                            [&desk, key](std::string const& by, bool) {
                                auto const done = session::TrustStore(desk.workspace.journal())
                                                      .remove(key, by, desk.workspace.clock().now());
                                if (!done)
                                    desk.report(done.error());
                            });
             });
}

void TrustPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row)
        remove(desk, intent.id);
    else if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action && m_stick)
        desk.go(std::make_unique<StickTargetPage>(m_stick));
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<StickPage>());
}

} // namespace isochore::app
