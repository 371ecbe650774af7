#include "model/job_state.h"
#include "json/member.h"

namespace isochore::model {
namespace {

std::string joined(Json const& list)
{
    std::string text;
    if (list.is_array())
        for (auto const& item : list)
            if (item.is_string())
                text += (text.empty() ? "" : ", ") + item.get<std::string>();
    return text;
}

std::string shown_values(Json const& values)
{
    std::string text;
    if (values.is_object())
        for (auto const& [path, value] : values.items())
            if (value.is_string())
                text += (text.empty() ? "" : ", ") + path + " = " + value.get<std::string>();
    return text;
}

/// One entry on its way to a line.
struct Line {
    Checklists const& checklists;
    Json const& body;
    EntryWords const& words;
    Step const* step;

    [[nodiscard]] std::string text(char const* name) const { return text_member(body, name); }

    /// The line, and at which step, where the entry is about one.
    [[nodiscard]] std::string at_step(std::string line) const
    {
        return step ? words.said("{} at “{}”", {std::move(line), words.title(*step)}) : line;
    }
    [[nodiscard]] std::string why(std::string line) const
    {
        std::string const reason = text("reason");
        return reason.empty() ? line : line + ": " + reason;
    }

    [[nodiscard]] std::string recorded() const
    {
        std::string value = text("typed");
        std::string const answer = text("answer"), verdict = text("verdict");
        if (value.empty() && step)
            for (auto const& a : step->answers)
                if (a.id == answer)
                    value = words.answer(*step, a);
        if (value.empty())
            value = answer;
        if (value.empty())
            value = verdict.empty() || verdict == "none" ? words.said("result", {}) : words.sentence(verdict);
        return at_step(words.said("Recorded {}", {value}));
    }

    [[nodiscard]] std::string deferred() const
    {
        std::string const before = text("before");
        std::string line = words.said("{}, owner {}", {at_step(words.said("Put off", {})), text("owner")});
        if (before == after_outage)
            line = words.said("{}, until after the outage", {line});
        else if (Step const* waits = checklists.step(before))
            line = words.said("{}, to be closed before “{}”", {line, words.title(*waits)});
        return why(line);
    }

    [[nodiscard]] std::string shown() const
    {
        std::string const file = text("file");
        if (!file.empty())
            return at_step(words.said("Read what the unit shows from {}", {file}));
        return at_step(words.said("The unit shows {}", {shown_values(member(body, "values"))}));
    }
};

using Say = std::string (*)(Line const&);
struct Row {
    std::string_view type;
    Say say;
};

constexpr Row rows[] = {
    {"created", [](Line const& l) { return l.words.said("Outage begun", {}); }},
    {"opened", [](Line const& l) { return l.words.said("Program opened the outage", {}); }},
    {"recorded", [](Line const& l) { return l.recorded(); }},
    {"reading",
     [](Line const& l) { return l.at_step(l.words.said("Reading {}", {joined(member(l.body, "values"))})); }},
    {"series_anew", [](Line const& l) { return l.why(l.at_step(l.words.said("Began a new series", {}))); }},
    {"shown", [](Line const& l) { return l.shown(); }},
    {"deferred", [](Line const& l) { return l.deferred(); }},
    {"overridden",
     [](Line const& l) { return l.why(l.at_step(l.words.said("Overridden by {}", {l.text("by")}))); }},
    {"not_applicable",
     [](Line const& l) { return l.why(l.at_step(l.words.said("Marked not applicable", {}))); }},
    {"undone", [](Line const& l) { return l.at_step(l.words.said("Took back the last entry", {})); }},
    {"confirmed_again",
     [](Line const& l) { return l.at_step(l.words.said("Confirmed again after a break", {})); }},
    {"stick_written",
     [](Line const& l) { return l.words.said("Wrote set {} to the stick", {l.text("set")}); }},
    {"in_hand",
     [](Line const& l) {
         return member(l.body, "in_hand") == false ? l.words.said("No longer in hand: {}", {l.text("part")})
                                                   : l.words.said("In hand: {}", {l.text("part")});
     }},
    {"calibration",
     [](Line const& l) {
         return l.words.said("Calibration of {} due {}", {l.text("instrument"), l.text("due")});
     }},
    {"part",
     [](Line const& l) {
         Json const part = member(l.body, "part");
         auto const revision = static_cast<int>(number_member(part, "revision", 1.0));
         return l.words.said("Part taken: {}, revision {}",
                             {text_member(part, "name"), std::to_string(revision)});
     }},
    {"signed", [](Line const& l) { return l.words.said("Signed by {}", {l.text("who")}); }},
    {"sealed", [](Line const& l) { return l.words.said("Record sealed", {}); }},
    {"archived", [](Line const& l) { return l.words.said("Outage archived", {}); }},
    {"unarchived", [](Line const& l) { return l.words.said("Outage taken out of the archive", {}); }},
    {"moved",
     [](Line const& l) {
         return l.words.said(
             "Moved from {} to {}, confirmed by {}",
             {l.words.sentence(l.text("from")), l.words.sentence(l.text("to")), l.text("by")});
     }},
    {"clock", [](Line const& l) { return l.words.sentence(l.text("text")); }},
    {"remark", [](Line const& l) { return l.words.sentence(l.text("text")); }},
};

} // namespace

std::string describe_entry(Checklists const& checklists, Json const& body, EntryWords const& words)
{
    Line const line{checklists, body, words, checklists.step(text_member(body, "step"))};
    for (auto const& row : rows)
        if (row.type == text_member(body, "type"))
            return row.say(line);
    return words.said("Entry of a later version", {});
}

} // namespace isochore::model
