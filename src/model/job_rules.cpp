#include "model/job_rules.h"
#include <algorithm>
#include <cctype>
#include <set>

namespace isochore::model {
namespace {

std::vector<Step const*> all_steps(Checklists const& checklists)
{
    std::vector<Step const*> all;
    for (auto const& stage : checklists.stages)
        for (auto const& step : stage.steps)
            all.push_back(&step);
    return all;
}

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
    // What waits until after the outage has a place behind the last step.
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

bool always_applies(Checklists const& checklists, Step const& step)
{
    auto const all = all_steps(checklists);
    return step.hold || step.may_override == OverridePolicy::never ||
           std::any_of(all.begin(), all.end(),
                       [&](Step const* other) { return other->when && other->when->step == step.id; });
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
    // What was put off until this step has come due.
    for (auto const& [id, record] : state.records)
        if (record.status == StepStatus::deferred && record.defer_before == step.id)
            if (Step const* waiting = checklists.step(id))
                want(*waiting);
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

std::string locked_because(Checklists const& checklists, JobState const& state, Step const& step,
                           EntryWords const& words)
{
    auto const missing = missing_for(checklists, state, step);
    if (missing.empty())
        return {};
    std::string titles;
    for (std::size_t i = 0; i < missing.size() && i < 3; ++i)
        titles += (i ? ", “" : "“") + words.title(*missing[i]) + "”";
    if (missing.size() > 3)
        titles = words.said("{} and {} more", {titles, std::to_string(missing.size() - 3)});
    return missing.size() == 1 ? words.said("Opens when {} is closed.", {titles})
                               : words.said("Opens when {} are closed.", {titles});
}

std::string title_in_words(Checklists const& checklists, std::string const& english, EntryWords const& words)
{
    for (Step const* step : all_steps(checklists))
        if (step->title == english)
            return words.title(*step);
    return english;
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
    auto const order = all_steps(checklists);
    auto const at = std::find_if(order.begin(), order.end(), [&](Step const* s) { return s->id == from; });
    std::size_t const start = at == order.end() ? 0 : static_cast<std::size_t>(at - order.begin());
    auto const first = [&](bool put_off) -> Step const* {
        for (std::size_t i = 0; i < order.size(); ++i) {
            Step const& step = *order[(start + i) % order.size()];
            StepStatus const status = status_of(checklists, state, step);
            bool const wanted =
                put_off ? status == StepStatus::deferred && state.record(step.id).defer_before != after_outage
                        : status != StepStatus::deferred && !is_closed(status);
            if (wanted && missing_for(checklists, state, step).empty())
                return &step;
        }
        return nullptr;
    };
    Step const* open = first(false);
    return open ? open : first(true);
}

std::vector<Step const*> may_wait_until(Checklists const& checklists, JobState const& state, Step const& step)
{
    std::vector<Step const*> later;
    bool past = false;
    for (Step const* other : all_steps(checklists)) {
        if (past && applies(checklists, state, *other) != false)
            later.push_back(other);
        past = past || other == &step;
    }
    return later;
}

Step const* proposed_wait(Checklists const& checklists, JobState const& state, Step const& step)
{
    auto const later = may_wait_until(checklists, state, step);
    Stage const* stage = checklists.stage_of(step.id);
    auto const waits_for_it = [&](Step const* other) {
        auto const uses = uses_of(*other);
        return std::find(uses.begin(), uses.end(), step.id) != uses.end() ||
               std::any_of(other->needs.begin(), other->needs.end(), [&](std::string const& need) {
                   return need == step.id || (stage && need == "stage:" + stage->id);
               });
    };
    auto const found = std::find_if(later.begin(), later.end(), waits_for_it);
    return found != later.end() ? *found : later.empty() ? nullptr : later.back();
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

namespace {

/// What is not as it must be, in words.
std::string deviation_text(Checklists const& checklists, Step const& step, StepStatus status,
                           StepRecord const& r, EntryWords const& words)
{
    switch (status) {
    case StepStatus::not_applicable:
        return words.said("Not applicable: {}", {r.not_applicable_reason});
    case StepStatus::failed:
        return words.reason(step, r.reason);
    case StepStatus::undecided:
        return words.reason(step, r.reason) + (r.remedy.empty() ? "" : " " + words.sentence(r.remedy));
    case StepStatus::overridden:
        return words.said("By {}: {}", {r.override_by, r.override_reason});
    case StepStatus::deferred:
        if (Step const* before = checklists.step(r.defer_before))
            return words.said("Owner {}, to be closed before “{}”: {}",
                              {r.defer_owner, words.title(*before), r.defer_reason});
        return words.said("Owner {}, after the outage: {}", {r.defer_owner, r.defer_reason});
    case StepStatus::reopened:
        return !r.reopened_by_move.empty()
                   ? words.sentence(r.reopened_by_move)
                   : words.said("“{}” was corrected since",
                                {title_in_words(checklists, r.reopened_because, words)});
    case StepStatus::in_progress:
        return words.said("Log still running", {});
    case StepStatus::not_started:
        return words.said("Not done", {});
    case StepStatus::done:
        break;
    }
    return {};
}

bool blocks(Step const& step, StepStatus status, StepRecord const& r)
{
    if (status == StepStatus::deferred)
        // Early entries name no step: they were signed over, and still may be.
        return step.hold || (!r.defer_before.empty() && r.defer_before != after_outage);
    return status != StepStatus::not_applicable && status != StepStatus::overridden;
}

} // namespace

std::vector<Deviation> deviations(Checklists const& checklists, JobState const& state,
                                  EntryWords const& words)
{
    std::vector<Deviation> list;
    for (auto const& stage : checklists.stages)
        for (auto const& step : stage.steps) {
            StepStatus const status = status_of(checklists, state, step);
            StepRecord const& r = state.record(step.id);
            // Neither what is done nor the branch that was not taken is a deviation.
            if (status == StepStatus::done ||
                (status == StepStatus::not_applicable && r.not_applicable_reason.empty()))
                continue;
            list.push_back(
                {&step, status, deviation_text(checklists, step, status, r, words), blocks(step, status, r)});
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
