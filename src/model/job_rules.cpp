#include "model/job_rules.h"
#include <algorithm>
#include <cctype>
#include <set>

namespace isochore::model {
namespace {

/// Position of a step in the whole outage, for "must be closed before".
int position(Checklists const& checklists, std::string_view id)
{
    int n = 0;
    for (auto const& stage : checklists.stages)
        for (auto const& step : stage.steps) {
            if (step.id == id)
                return n;
            ++n;
        }
    return n;
}

bool lets_pass(Checklists const& checklists, JobState const& state, Step const& needed, Step const& asking)
{
    StepStatus const status = status_of(checklists, state, needed);
    if (is_closed(status))
        return true;
    if (status != StepStatus::deferred || needed.hold)
        return false;
    std::string const& before = state.record(needed.id).defer_before;
    return !before.empty() && position(checklists, asking.id) < position(checklists, before);
}

void mentions(std::string_view text, std::vector<std::string>& ids)
{
    constexpr std::string_view mark = "step:";
    for (std::size_t at = text.find(mark); at != std::string_view::npos; at = text.find(mark, at + 1)) {
        std::size_t end = at + mark.size();
        int dots = 0;
        while (end < text.size() &&
               (std::isalnum(static_cast<unsigned char>(text[end])) || text[end] == '_' || text[end] == '-' ||
                (text[end] == '.' && dots == 0))) {
            dots += text[end] == '.';
            ++end;
        }
        ids.emplace_back(text.substr(at + mark.size(), end - at - mark.size()));
    }
}

} // namespace

bool is_closed(StepStatus status)
{
    return status == StepStatus::done || status == StepStatus::overridden ||
           status == StepStatus::not_applicable;
}

std::optional<bool> applies(Checklists const& checklists, JobState const& state, Step const& step)
{
    if (!step.when)
        return true;
    Step const* decider = checklists.step(step.when->step);
    if (decider) {
        auto const outer = applies(checklists, state, *decider);
        if (!outer || !*outer)
            return outer;
    }
    StepRecord const& record = state.record(step.when->step);
    if (record.answer.empty())
        return std::nullopt;
    auto const& wanted = step.when->answers;
    return std::find(wanted.begin(), wanted.end(), record.answer) != wanted.end();
}

StepStatus status_of(Checklists const& checklists, JobState const& state, Step const& step)
{
    if (applies(checklists, state, step) == false)
        return StepStatus::not_applicable;
    return state.record(step.id).status;
}

std::vector<Step const*> missing_for(Checklists const& checklists, JobState const& state, Step const& step)
{
    std::vector<Step const*> missing;
    auto const want = [&](Step const& needed) {
        if (needed.id != step.id && !lets_pass(checklists, state, needed, step) &&
            std::find(missing.begin(), missing.end(), &needed) == missing.end())
            missing.push_back(&needed);
    };
    for (auto const& need : step.needs) {
        if (need.starts_with("stage:")) {
            if (Stage const* stage = checklists.stage(std::string_view(need).substr(6)))
                for (auto const& s : stage->steps)
                    want(s);
        } else if (Step const* needed = checklists.step(need)) {
            want(*needed);
        }
    }
    if (step.when && !applies(checklists, state, step))
        if (Step const* decider = checklists.step(step.when->step))
            want(*decider);
    // A calculation cannot run before the steps it reads.
    if (step.call && step.kind == StepKind::compute)
        for (auto const& id : step.call->uses)
            if (Step const* used = checklists.step(id); used && used->id != step.id) {
                StepRecord const& r = state.record(id);
                bool const read =
                    !r.typed.empty() || !r.answer.empty() || !r.result.is_null() || !r.readings.empty();
                if (!read && applies(checklists, state, *used) != false)
                    want(*used);
            }
    return missing;
}

std::string locked_because(Checklists const& checklists, JobState const& state, Step const& step)
{
    auto const missing = missing_for(checklists, state, step);
    if (missing.empty())
        return {};
    std::string text = "Opens when ";
    for (std::size_t i = 0; i < missing.size() && i < 3; ++i)
        text += (i ? ", “" : "“") + missing[i]->title + "”";
    if (missing.size() > 3)
        text += " and " + std::to_string(missing.size() - 3) + " more";
    return text + (missing.size() == 1 ? " is closed." : " are closed.");
}

Step const& leads_to(Checklists const& checklists, JobState const& state, Step const& step)
{
    Step const* at = &step;
    // Needs form no circle (the reader refuses one), so the number of steps bounds the way.
    for (std::size_t guard = 0; guard < 1000; ++guard) {
        auto const missing = missing_for(checklists, state, *at);
        if (missing.empty())
            break;
        at = missing.front();
    }
    return *at;
}

Step const* next_step(Checklists const& checklists, JobState const& state, std::string_view from)
{
    std::vector<Step const*> order;
    std::size_t start = 0;
    for (auto const& stage : checklists.stages)
        for (auto const& step : stage.steps) {
            if (step.id == from)
                start = order.size();
            order.push_back(&step);
        }
    for (std::size_t i = 0; i < order.size(); ++i) {
        Step const& step = *order[(start + i) % order.size()];
        StepStatus const status = status_of(checklists, state, step);
        if (is_closed(status) || status == StepStatus::deferred)
            continue;
        if (missing_for(checklists, state, step).empty())
            return &step;
    }
    return nullptr;
}

StageProgress progress(Checklists const& checklists, JobState const& state, Stage const& stage)
{
    StageProgress p;
    for (auto const& step : stage.steps) {
        StepStatus const status = status_of(checklists, state, step);
        if (status == StepStatus::not_applicable)
            continue;
        ++p.applicable;
        p.closed += is_closed(status);
        p.failed += status == StepStatus::failed;
        p.undecided += status == StepStatus::undecided;
        p.deferred += status == StepStatus::deferred;
    }
    return p;
}

std::vector<std::string> uses_of(Step const& step)
{
    std::vector<std::string> ids;
    if (step.call)
        ids = step.call->uses;
    if (step.expected)
        ids.insert(ids.end(), step.expected->uses.begin(), step.expected->uses.end());
    if (step.limit) {
        mentions(step.limit->min, ids);
        mentions(step.limit->max, ids);
    }
    if (step.when)
        ids.push_back(step.when->step);
    return ids;
}

std::vector<Step const*> dependents(Checklists const& checklists, std::string_view changed)
{
    std::set<std::string> reached{std::string(changed)};
    std::vector<Step const*> found;
    for (bool grew = true; grew;) {
        grew = false;
        for (auto const& stage : checklists.stages)
            for (auto const& step : stage.steps) {
                if (reached.contains(step.id))
                    continue;
                for (auto const& id : uses_of(step))
                    if (reached.contains(id)) {
                        reached.insert(step.id);
                        found.push_back(&step);
                        grew = true;
                        break;
                    }
            }
    }
    return found;
}

std::vector<Deviation> deviations(Checklists const& checklists, JobState const& state)
{
    std::vector<Deviation> list;
    for (auto const& stage : checklists.stages)
        for (auto const& step : stage.steps) {
            StepStatus const status = status_of(checklists, state, step);
            StepRecord const& r = state.record(step.id);
            Deviation d{&step, status, {}, false};
            switch (status) {
            case StepStatus::done:
                continue;
            case StepStatus::not_applicable:
                if (r.not_applicable_reason.empty())
                    continue; // the branch not taken is no deviation
                d.text = "Not applicable: " + r.not_applicable_reason;
                break;
            case StepStatus::failed:
                d.text = r.reason;
                d.blocks_signing = true;
                break;
            case StepStatus::undecided:
                d.text = r.reason + (r.remedy.empty() ? "" : " " + r.remedy);
                d.blocks_signing = true;
                break;
            case StepStatus::overridden:
                d.text = "By " + r.override_by + ": " + r.override_reason;
                break;
            case StepStatus::deferred:
                d.text = "Owner " + r.defer_owner + ": " + r.defer_reason;
                d.blocks_signing = step.hold;
                break;
            case StepStatus::reopened:
                d.text = !r.reopened_by_move.empty() ? r.reopened_by_move
                                                     : "“" + r.reopened_because + "” was corrected since";
                d.blocks_signing = true;
                break;
            case StepStatus::in_progress:
                d.text = "Log still running";
                d.blocks_signing = true;
                break;
            case StepStatus::not_started:
                d.text = "Not done";
                d.blocks_signing = true;
                break;
            }
            list.push_back(std::move(d));
        }
    auto const weight = [](Deviation const& d) {
        switch (d.status) {
        case StepStatus::failed:
            return 0;
        case StepStatus::undecided:
            return 1;
        case StepStatus::overridden:
            return 2;
        case StepStatus::reopened:
            return 3;
        case StepStatus::not_started:
        case StepStatus::in_progress:
            return 4;
        case StepStatus::deferred:
            return 5;
        default:
            return 6;
        }
    };
    std::stable_sort(list.begin(), list.end(),
                     [&](auto const& a, auto const& b) { return weight(a) < weight(b); });
    return list;
}

} // namespace isochore::model
