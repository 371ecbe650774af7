#include "app/outage_frame.h"
#include "app/pages.h"
#include "seal/people.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

std::vector<seal::Person> active_people(Desk& desk)
{
    std::vector<seal::Person> active;
    if (auto const all = seal::People(desk.workspace.journal()).all())
        for (auto const& p : *all)
            if (!p.withdrawn)
                active.push_back(p);
    return active;
}

std::int64_t now_ms(Desk& desk)
{
    return desk.workspace.clock().now().utc_ms;
}

/// Asks for a PIN and hands on the person when it was right.
void ask_pin(Desk& desk, seal::Person const& person, std::function<void(seal::Person const&)> then)
{
    EntryRequest r;
    r.label = fmt::format("PIN: {}", person.name);
    r.secret = true;
    r.done = [&desk, id = person.id, then = std::move(then)](std::string const& pin, std::string const&) {
        auto const checked = seal::People(desk.workspace.journal()).check_pin(id, pin, now_ms(desk));
        if (!checked)
            desk.report(checked.error());
        else
            then(*checked);
    };
    desk.entry.open(std::move(r));
}

} // namespace

void ask_person(Desk& desk, std::string title, bool pin, std::function<void(std::string, bool)> then)
{
    EntryRequest r;
    r.label = std::move(title);
    r.text = true;
    auto const people = active_people(desk);
    for (auto const& p : people)
        r.suggestions.push_back(p.name);
    if (!pin && desk.outage)
        for (auto const& name : desk.outage->state().crew)
            r.suggestions.push_back(name);
    r.done = [&desk, pin, people, then = std::move(then)](std::string const& name, std::string const&) {
        if (!pin) {
            then(name, false);
            return;
        }
        for (auto const& p : people)
            if (p.name == name) {
                ask_pin(desk, p, [then](seal::Person const& known) { then(known.name, true); });
                return;
            }
        desk.say(
            desk.words("Not known here"),
            desk.words("Nobody of that name has a PIN on this tablet. Add the person under People first."));
    };
    desk.entry.open(std::move(r));
}

void PeoplePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    screens::ListView list;
    list.heading = desk.words("People");
    list.text = desk.words("Who may sign, or override with a PIN. A PIN is known only to its owner.");
    list.empty = desk.words("Nobody yet. The first person must be a supervisor or an engineer.");
    auto const all = seal::People(desk.workspace.journal()).all();
    if (!all)
        list.notice =
            screens::VerdictView{Mark::fail, desk.words("People cannot be read"), desk.words.sentence(all.error().detail), {}};
    else
        for (auto const& p : *all)
            list.rows.push_back({p.id, p.name, desk.words(seal::role_name(p.role)),
                                 p.withdrawn ? desk.words("withdrawn") : std::string(),
                                 p.withdrawn ? Mark::not_applicable : Mark::none, false});
    list.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"new", desk.words("Add a person"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void PeoplePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind != Intent::Kind::action)
        return;
    if (intent.id == "new")
        desk.go(std::make_unique<NewPersonPage>());
    else
        go_home(desk);
}

void NewPersonPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    screens::FormView form;
    form.heading = desk.words("Add a person");
    form.text = desk.words("At least six digits, none that others would try first. Type it yourself.");
    form.answers_label = desk.words("Role");
    for (auto const role : {seal::Role::supervisor, seal::Role::engineer, seal::Role::crew})
        form.answers.push_back(
            {seal::role_name(role), desk.words(seal::role_name(role)), m_role == seal::role_name(role)});
    form.fields.push_back({"name", desk.words("Name"), m_name, {}, false, {}, {}});
    form.fields.push_back({"pin", desk.words("PIN"), std::string(m_pin.size(), '*'), {}, false, {}, {}});
    form.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"add", desk.words("Add"), {}, true, !m_name.empty() && !m_pin.empty(), false}};
    sheet.form = std::move(form);
}

void NewPersonPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::answer)
        m_role = intent.id;
    else if (intent.kind == Intent::Kind::field) {
        EntryRequest r;
        bool const pin = intent.id == "pin";
        r.label = pin ? desk.words("PIN, six digits or more") : desk.words("Name");
        r.text = !pin;
        r.secret = pin;
        r.done = [this, pin](std::string const& typed, std::string const&) {
            (pin ? m_pin : m_name) = typed;
        };
        desk.entry.open(std::move(r));
    } else if (intent.kind == Intent::Kind::action && intent.id == "back") {
        desk.go(std::make_unique<PeoplePage>());
    } else if (intent.kind == Intent::Kind::action && intent.id == "add") {
        auto const add = [this, &desk](std::string const& by) {
            auto const added = seal::People(desk.workspace.journal())
                                   .add(m_name, seal::role_from_name(m_role).value_or(seal::Role::crew),
                                        m_pin, by, now_ms(desk));
            if (!added)
                desk.report(added.error());
            else
                desk.go(std::make_unique<PeoplePage>());
        };
        std::vector<seal::Person> keepers;
        for (auto const& p : active_people(desk))
            if (p.role != seal::Role::crew)
                keepers.push_back(p);
        if (keepers.empty()) {
            add({});
            return;
        }
        // Whoever looks after the list shows a PIN before it grows.
        EntryRequest r;
        r.label = desk.words("Who adds this person?");
        r.text = true;
        for (auto const& p : keepers)
            r.suggestions.push_back(p.name);
        r.done = [&desk, keepers, add](std::string const& name, std::string const&) {
            for (auto const& p : keepers)
                if (p.name == name) {
                    ask_pin(desk, p, [add](seal::Person const& known) { add(known.id); });
                    return;
                }
            desk.say(desk.words("Not known here"),
                     desk.words("Only a supervisor or an engineer can add people."));
        };
        desk.entry.open(std::move(r));
    }
}

} // namespace isochore::app
