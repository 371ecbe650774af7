#include "app/outage_frame.h"
#include "app/page_parts.h"
#include "session/clock.h"
#include "session/outage_parts.h"
#include "session/own_parts.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

std::string shown(Json const& value)
{
    if (value.is_string())
        return value.get<std::string>();
    std::string text;
    if (value.is_array())
        for (auto const& one : value)
            text += (text.empty() ? "" : " – ") + (one.is_string() ? one.get<std::string>() : one.dump());
    return text;
}

/// What a revision changed against the one before it, a line a field; of the first one: all it says.
std::vector<std::string> changes(Words const& words, Json const& before, Json const& now)
{
    std::vector<std::string> lines;
    if (session::is_withdrawn(now)) {
        lines.push_back(words("Withdrawn: {}", {text_member(now, "reason")}));
        return lines;
    }
    auto fields = session::part_fields(text_member(now, "group"));
    fields.insert(fields.begin() + 1, "ends");
    for (auto const& field : fields) {
        std::string const was = shown(member(before, field.c_str())), is = shown(member(now, field.c_str()));
        if (was == is || (before.is_null() && is.empty()))
            continue;
        std::string const label = part_label(words, field);
        if (before.is_null())
            lines.push_back(label + ": " + is);
        else
            lines.push_back(
                fmt::format("{}: {} → {}", label, was.empty() ? "–" : was, is.empty() ? "–" : is));
    }
    if (session::is_withdrawn(before))
        lines.insert(lines.begin(), words("In use again"));
    return lines;
}

std::string joined(std::vector<std::string> const& lines)
{
    return fmt::format("{}", fmt::join(lines, "; "));
}

/// The revision that the outage in hand took, where it took one.
std::optional<int> taken_revision(Desk const& desk, std::string const& id)
{
    if (!desk.outage)
        return std::nullopt;
    auto const taken = session::taken_parts(*desk.outage);
    auto const it = taken.find(id);
    return it == taken.end() ? std::nullopt : std::optional(session::revision_of(it->second));
}

} // namespace

void PartPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    auto const& words = desk.words;
    Json const revisions = desk.workspace.own_parts().revisions(m_id);
    screens::TableView table;
    table.actions = {{"back", words("Back"), {}, false, true, false}};
    if (revisions.empty()) {
        table.heading = words("Parts");
        table.empty = words("There is no such part.");
        sheet.table = std::move(table);
        return;
    }
    Json const& last = revisions.back();
    bool const withdrawn = session::is_withdrawn(last);
    table.heading = text_member(last, "name");
    table.text = withdrawn ? words("Withdrawn: chains and kit lists no longer offer it.")
                           : words("Every revision stays to be seen, the newest is in force.");
    table.columns = {{words("Revision"), 0.7, true},
                     {words("When"), 1.1, false},
                     {words("By"), 1.0, false},
                     {words("What it says or changes"), 4.0, false}};
    for (std::size_t i = revisions.size(); i-- > 0;) {
        Json const& one = revisions[i];
        std::string const at = text_member(one, "at"), by = text_member(one, "by");
        bool const in_force = i + 1 == revisions.size();
        table.rows.push_back(
            {fmt::format("revision-{}", session::revision_of(one)),
             {std::to_string(session::revision_of(one)),
              at.empty() ? "–" : session::calendar_day(at) + " " + session::clock_time(at),
              by.empty() ? "–" : by, joined(changes(words, i > 0 ? revisions[i - 1] : Json(), one))},
             in_force && withdrawn ? Mark::not_applicable
             : in_force            ? Mark::pass
                                   : Mark::none,
             false,
             false});
    }
    auto const taken = taken_revision(desk, m_id);
    int const newest = session::revision_of(last);
    if (taken && *taken != newest) {
        table.notice = screens::VerdictView{
            Mark::recorded,
            words("This outage keeps revision {}", {std::to_string(*taken)}),
            withdrawn ? words("It took the part before it was withdrawn.")
                      : words("It took the part before the change. Taking revision {} opens again what was "
                              "worked out with the earlier one.",
                              {std::to_string(newest)}),
            {}};
        if (!withdrawn)
            table.actions.push_back({"take", words("Take revision {}", {std::to_string(newest)}),
                                     words("into this outage"), false, desk.outage->why_closed().empty(),
                                     false});
    }
    if (!withdrawn)
        table.actions.push_back({"withdraw", words("Withdraw"), words("say why"), false, true, false});
    table.actions.push_back(
        {"change", withdrawn ? words("Use it again") : words("Change"), {}, true, true, false});
    sheet.table = std::move(table);
}

void PartPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind != Intent::Kind::action)
        return;
    Json const revisions = desk.workspace.own_parts().revisions(m_id);
    if (intent.id == "back" || revisions.empty()) {
        desk.go(std::make_unique<PartsPage>());
    } else if (intent.id == "withdraw") {
        withdraw(desk);
    } else if (intent.id == "take" && desk.outage) {
        if (auto const taken = session::take_part(*desk.outage, revisions.back()); !taken)
            return desk.report(taken.error());
        refresh_parts(desk);
    } else if (intent.id == "change") {
        Json part = revisions.back();
        if (session::is_withdrawn(part))
            part.erase("id"); // added anew, it comes back as the next revision
        desk.go(std::make_unique<PartFormPage>(part));
    }
}

void PartPage::withdraw(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Why is the part withdrawn?");
    r.context = desk.words("It is no longer offered. What it was stays to be seen.");
    r.text = true;
    r.done = [&desk, id = m_id](std::string const& typed, std::string const&) {
        std::string const by = desk.outage ? desk.outage->who() : std::string();
        if (auto const done = desk.workspace.withdraw_part(id, typed, by); !done)
            return desk.report(done.error());
        refresh_parts(desk);
    };
    desk.entry.open(std::move(r));
}

} // namespace isochore::app
