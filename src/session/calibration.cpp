#include "session/calibration.h"
#include "calc/part_library.h"
#include "model/job_rules.h"
#include "session/clock.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace isochore::session {
namespace {

using model::Step;

/// The kit's part for a kind of instrument; empty: the kit has none.
std::string part_known_as(std::string_view kind)
{
    for (auto const& rule : member(calc::kit_data(), "rules"))
        for (auto const& known : member(rule, "known_as"))
            if (known.is_string() && known.get<std::string>() == kind)
                return text_member(rule, "name");
    return {};
}

std::vector<std::string> kinds_of(Step const& step)
{
    std::vector<std::string> kinds;
    std::string_view rest = step.instrument;
    while (!rest.empty()) {
        std::size_t const comma = std::min(rest.find(", "), rest.size());
        kinds.emplace_back(rest.substr(0, comma));
        rest.remove_prefix(std::min(comma + 2, rest.size()));
    }
    return kinds;
}

/// Every "step:ID" in the inputs of a calculation.
void add_references(Json const& value, std::set<std::string>& ids)
{
    if (value.is_structured())
        for (auto const& inner : value)
            add_references(inner, ids);
    if (!value.is_string())
        return;
    std::string const text = value.get<std::string>();
    for (std::string_view const start : {"step:", "series:"})
        if (text.starts_with(start)) {
            std::string const name = text.substr(start.size());
            std::size_t const stage = name.find('.');
            std::size_t const result = stage == std::string::npos ? stage : name.find('.', stage + 1);
            ids.insert(name.substr(0, result));
        }
}

void add_past(Context const& context, Step const& step, std::set<std::string>& seen,
              std::vector<InstrumentUse>& past)
{
    if (!seen.insert(step.id).second)
        return;
    model::StepRecord const& record = context.state.record(step.id);
    std::string const at = record.at.empty() ? context.state.last_at : record.at;
    for (auto& use : instruments_of(context, step, calendar_day(at)))
        if (use.past)
            past.push_back(std::move(use));
    if (!step.call)
        return;
    std::set<std::string> ids;
    add_references(Json::parse(step.call->inputs_json, nullptr, false), ids);
    for (auto const& id : ids)
        if (Step const* source = context.checklists.step(id);
            source && !context.state.record(id).at.empty() &&
            model::applies(context.checklists, context.state, *source) != false)
            add_past(context, *source, seen, past);
}

} // namespace

std::vector<InstrumentUse> instruments_of(Context const& context, Step const& step, std::string_view day)
{
    std::vector<InstrumentUse> uses;
    for (auto const& kind : kinds_of(step)) {
        std::string const name = part_known_as(kind);
        bool const there =
            std::any_of(uses.begin(), uses.end(), [&](auto const& u) { return u.name == name; });
        if (name.empty() || there)
            continue;
        auto const it = context.state.calibration_due.find(name);
        std::string const due = it == context.state.calibration_due.end() ? std::string() : it->second;
        uses.push_back({name, due, step.title, !due.empty() && due < day});
    }
    return uses;
}

std::vector<InstrumentUse> past_instruments(Context const& context, Step const& step)
{
    std::vector<InstrumentUse> past;
    if (context.state.calibration_due.empty())
        return past;
    std::set<std::string> seen;
    add_past(context, step, seen, past);
    return past;
}

std::string past_date_text(std::vector<InstrumentUse> const& past)
{
    std::string text;
    std::set<std::string> said;
    for (auto const& use : past)
        if (said.insert(use.name).second)
            text += fmt::format("{}{} is past its calibration date ({}): take another, or have the reading "
                                "accepted.",
                                text.empty() ? "" : " ", use.name, use.due);
    return text;
}

} // namespace isochore::session
