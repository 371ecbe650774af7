#include "session/record_kit.h"
#include "session/calibration.h"
#include "session/own_parts.h"
#include "session/plan.h"
#include "session/record_steps.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using language::said;
using language::Words;

namespace {

/// The last entry about a part: whether it is in hand, its date, and who said so when.
struct PartEntry {
    std::string in_hand, who, at, due, due_who, due_at;
};

using PartEntries = std::map<std::string, PartEntry, std::less<>>;

PartEntries part_entries(Outage const& outage)
{
    PartEntries entries;
    for (auto const& body : outage.bodies()) {
        std::string const type = text_member(body, "type");
        std::string const who = text_member(body, "who"), at = text_member(body, "at");
        if (type == "in_hand") {
            PartEntry& e = entries[text_member(body, "part")];
            e.in_hand = member(body, "in_hand") == false ? said("no") : said("yes");
            e.who = who;
            e.at = at;
        } else if (type == "calibration") {
            PartEntry& e = entries[text_member(body, "instrument")];
            e.due = text_member(body, "due");
            e.due_who = who;
            e.due_at = at;
        }
    }
    return entries;
}

/// The kit as the recorded plan lists it.
std::vector<std::string> planned_parts(Outage const& outage)
{
    std::vector<std::string> names;
    if (auto const* step = plan_step(outage.checklists()))
        if (Json const& result = outage.state().record(step->id).result; result.is_object())
            for (auto const& item : member(member(result, "results"), "kit"))
                names.push_back(text_member(item, "name"));
    return names;
}

std::string date_text(PartEntry const& e, std::string const& last_at, Words const& words)
{
    return !e.due.empty() && e.due < calendar_day(last_at) ? words("PAST: {}", {e.due}) : e.due;
}

} // namespace

report::RecordTable kit_table(Outage const& outage, Words const& words)
{
    report::RecordTable table;
    table.title = words("Kit and instruments");
    table.heads = {words("part"), words("in hand"), words("calibration due"), words("date entered")};
    auto const entries = part_entries(outage);
    if (entries.empty())
        return table;
    auto const told = [](std::string const& who, std::string const& at) {
        return who.empty() ? std::string() : who + ", " + paper_time(at);
    };
    for (auto const& [name, e] : entries)
        table.rows.push_back({words.sentence(name),
                              e.in_hand.empty() ? "–" : words(e.in_hand) + ": " + told(e.who, e.at),
                              date_text(e, outage.state().last_at, words), told(e.due_who, e.due_at)});
    std::string missing;
    for (auto const& name : planned_parts(outage))
        if (!entries.contains(name))
            missing += (missing.empty() ? "" : "; ") + words.sentence(name);
    if (!missing.empty())
        table.closing = words("Planned and not ticked off: {}.", {missing});
    return table;
}

report::RecordTable parts_table(Outage const& outage, Words const& words)
{
    report::RecordTable table;
    table.title = words("Parts added by the crew's own store");
    table.heads = {words("part"), words("revision"), words("figures"), words("source"), words("taken by")};
    for (auto const& body : outage.bodies()) {
        if (text_member(body, "type") != "part")
            continue;
        Json const part = member(body, "part");
        std::string figures;
        for (auto const& [name, label] : {std::pair{"length", said("length")},
                                          {"bore", said("bore")},
                                          {"volume", said("volume")},
                                          {"mass", said("mass")},
                                          {"max_pressure", said("stands")},
                                          {"cost", said("cost")}})
            if (std::string const value = text_member(part, name); !value.empty())
                figures += fmt::format("{}{} {}", figures.empty() ? "" : ", ", words(label), value);
        table.rows.push_back({text_member(part, "name"), std::to_string(revision_of(part)), figures,
                              text_member(part, "source") + ", " + text_member(part, "confidence"),
                              text_member(body, "who") + ", " + paper_time(text_member(body, "at"))});
    }
    return table;
}

std::vector<report::Deviation> past_instrument_deviations(Outage const& outage, Words const& words)
{
    std::vector<report::Deviation> list;
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps) {
            auto const& record = outage.state().record(step.id);
            if (record.at.empty() || step.call)
                continue;
            for (auto const& use : instruments_of(outage.context(), step, calendar_day(record.at)))
                if (use.past)
                    list.push_back({drawing::Mark::undecided,
                                    words.title(step),
                                    words("{} was past its calibration date, {}",
                                          {words.sentence(use.name), use.due}),
                                    words("an instrument past its date proves nothing until it is checked"),
                                    record.who,
                                    paper_time(record.at),
                                    {}});
        }
    return list;
}

} // namespace isochore::session
