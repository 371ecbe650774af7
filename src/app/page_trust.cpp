#include "app/page_stick.h"
#include "app/pages.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

void ask_to_trust(Desk& desk, std::string const& key, std::function<void()> then)
{
    auto const add = [&desk, key, then = std::move(then)](std::string const& name, std::string const& by) {
        auto const done =
            session::TrustStore(desk.workspace.journal()).add(key, name, by, desk.workspace.clock().now());
        if (done)
            then();
        else
            desk.report(done.error());
    };
    Question q;
    q.title = desk.words("Trust this key?");
    q.text =
        media::key_fingerprint(key) + "\n\n" +
        desk.words("Ring up its owner and have the fingerprint read out; compare it group by group. Only if "
                   "all four groups agree, go on. A person with a PIN answers for it.");
    q.actions = {{"cancel", desk.words("Back"), {}, false, true, false},
                 {"yes", desk.words("It agrees"), {}, true, true, false}};
    q.answered = [&desk, key, add](std::string const& answer) {
        if (answer != "yes")
            return;
        EntryRequest r;
        r.label = desk.words("Whose key is it?");
        r.context = media::key_fingerprint(key);
        r.text = true;
        r.done = [&desk, add](std::string const& name, std::string const&) {
            ask_person(desk, desk.words("Who decides this?"), true,
                       [add, name](std::string const& by, bool) { add(name, by); });
        };
        desk.entry.open(std::move(r));
    };
    desk.question = std::move(q);
}

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
        list.notice = screens::VerdictView{
            Mark::fail, desk.words("The keys cannot be read"), desk.fault(keys.error()), {}};
    else
        for (std::size_t i = 0; i < keys->size(); ++i) {
            auto const& k = (*keys)[i];
            std::string detail = desk.words("Fingerprint {}", {media::key_fingerprint(k.key.key)});
            if (!k.own)
                detail += "   " + desk.words("trusted by {} on {}",
                                             {k.added_by, session::calendar_day(k.key.added_on)});
            if (!k.key.newest_seen.empty())
                detail += "\n" + desk.words("Newest set seen: {}", {set_time(k.key.newest_seen)});
            list.rows.push_back({fmt::format("key.{}", i), k.own ? desk.words("This tablet") : k.key.name,
                                 std::move(detail), k.own ? desk.words("always") : desk.words("trusted"),
                                 Mark::pass, !k.own});
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
    if (intent.kind == Intent::Kind::row) {
        auto const keys = session::known_keys(desk.workspace);
        auto const i = static_cast<std::size_t>(std::atoi(intent.id.c_str() + 4));
        if (keys && i < keys->size() && !(*keys)[i].own)
            remove(desk, (*keys)[i].key.key);
    } else if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action && m_stick)
        desk.go(std::make_unique<StickTargetPage>(m_stick));
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<StickPage>());
}

} // namespace isochore::app
