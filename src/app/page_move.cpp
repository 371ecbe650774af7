#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"
#include "seal/people.h"

namespace isochore::app {

using model::RevisionChange;
using screens::Intent;
using screens::Mark;

namespace {

using Kind = RevisionChange::Kind;

struct KindWord {
    Kind kind;
    char const* word;
};
constexpr KindWord kinds[] = {
    {Kind::added, said("Step added")},        {Kind::removed, said("Step removed")},
    {Kind::kind, said("Other kind of step")}, {Kind::limit, said("Limit")},
    {Kind::calculation, said("Calculation")}, {Kind::answers, said("Answers")},
    {Kind::needs, said("What it waits for")}, {Kind::rules, said("Rules")},
    {Kind::wording, said("Wording")},         {Kind::profile, said("Profile value")}};

screens::TableRow heading(std::string text)
{
    screens::TableRow row;
    row.cells = {std::move(text)};
    return row;
}

/// "a, b (not in order)": known as a whole, or piece by piece.
std::string each_said(Words const& words, std::string const& text)
{
    if (std::string whole = words.sentence(text); whole != text)
        return whole;
    std::string out;
    for (std::size_t at = 0; at <= text.size();) {
        auto const end = std::min(text.find(", ", at), text.size());
        out += (out.empty() ? "" : ", ") + words.sentence(text.substr(at, end - at));
        at = end + 2;
    }
    return out;
}

screens::TableRow change_row(Words const& words, RevisionChange const& c)
{
    screens::TableRow row;
    row.id = c.step;
    std::string name;
    for (auto const& k : kinds)
        if (k.kind == c.kind)
            name = words(k.word);
    bool const wording = c.kind == Kind::wording && c.old_value == c.new_value;
    row.cells = {words.sentence(c.title), name, wording ? std::string() : each_said(words, c.old_value),
                 wording ? std::string() : each_said(words, c.new_value)};
    return row;
}

} // namespace

void MovePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    auto const& words = desk.words;
    frame_outage(desk, sheet, {});
    if (!m_plan)
        m_plan = desk.workspace.plan_move(*desk.outage);
    screens::TableView table;
    table.heading = words("Move to the newest checklists and profile");
    table.actions.push_back({"back", words("Back"), {}, !*m_plan, true, false});
    if (!*m_plan) {
        bool const nothing = m_plan->error().code == Error::Code::not_found;
        table.text = words.sentence(session::revision_name(desk.outage->pinned()));
        table.notice =
            screens::VerdictView{nothing ? Mark::pass : Mark::fail,
                                 nothing ? words("Nothing to move to") : words("This was not done"),
                                 desk.words.sentence(m_plan->error().detail),
                                 {}};
        sheet.table = std::move(table);
        return;
    }
    auto const& plan = **m_plan;
    table.text = words("From {} to {}. Both stay in the record.", {words.sentence(plan.from), words.sentence(plan.to)});
    table.columns = {{words("Step or value"), 1.5},
                     {words("Change"), 0.8},
                     {words("Until now"), 1.2},
                     {words("From now on"), 1.2}};
    for (auto const& c : plan.changes.changes)
        table.rows.push_back(change_row(words, c));
    table.rows.push_back(heading(plan.changes.reopens.empty() ? words("No closed step opens again")
                                                              : words("These steps open again")));
    for (auto const& r : plan.changes.reopens) {
        screens::TableRow row;
        row.id = "open." + r.step;
        row.cells = {words.sentence(r.title), r.anew ? words("anew") : words("Open again"),
                     words.sentence(r.because), {}};
        row.mark = Mark::undecided;
        table.rows.push_back(std::move(row));
    }
    table.actions.push_back(
        {"move", words("Move this outage"), words("a named person confirms"), true, true, false});
    sheet.table = std::move(table);
}

void MovePage::confirm(Desk& desk)
{
    // Where people have PINs, one of them shows it; a tablet without any still records the name.
    bool pin = false;
    if (auto const people = seal::People(desk.workspace.journal()).all())
        for (auto const& p : *people)
            pin = pin || !p.withdrawn;
    ask_person(desk, desk.words("Who has read the changes and confirms them?"), pin,
               [this, &desk](std::string const& name, bool checked) {
                   auto const done = desk.workspace.move(*desk.outage, **m_plan, name, checked);
                   if (!done)
                       desk.report(done.error());
                   else
                       desk.go(std::make_unique<ResumePage>());
               });
}

void MovePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action && intent.id == "move")
        confirm(desk);
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<MenuPage>());
}

} // namespace isochore::app
