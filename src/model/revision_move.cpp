#include "model/revision_move.h"
#include "model/job_rules.h"
#include "model/profile_compare.h"
#include <algorithm>
#include <cctype>
#include <set>

namespace isochore::model {
namespace {

using Kind = RevisionChange::Kind;

constexpr std::string_view profile_mark = "profile:";

bool of_path(char c)
{
    return std::isalnum(static_cast<unsigned char>(c)) || c == '_' || c == '.';
}

/// The profile paths a text mentions.
void paths_in(std::string_view text, std::set<std::string>& paths)
{
    for (std::size_t at = text.find(profile_mark); at != std::string_view::npos;
         at = text.find(profile_mark, at)) {
        at += profile_mark.size();
        std::size_t end = at;
        while (end < text.size() && of_path(text[end]))
            ++end;
        paths.emplace(text.substr(at, end - at));
    }
}

std::set<std::string> profile_paths(Step const& step)
{
    std::set<std::string> paths;
    if (step.limit) {
        paths_in(step.limit->min, paths);
        paths_in(step.limit->max, paths);
    }
    for (auto const* call : {&step.call, &step.expected})
        if (*call)
            paths_in((*call)->inputs_json, paths);
    return paths;
}

/// A side of a limit as people read it: the profile's value in the place of its path.
std::string side(Profile const& profile, std::string const& text)
{
    if (!text.starts_with(profile_mark))
        return text;
    return profile.text(text.substr(profile_mark.size()), text);
}

std::string limit_text(Revision const& r, Step const& step)
{
    if (!step.limit)
        return "no limit";
    std::string text;
    if (!step.limit->min.empty())
        text = "at least " + side(r.profile, step.limit->min);
    if (!step.limit->max.empty())
        text += (text.empty() ? "at most " : ", at most ") + side(r.profile, step.limit->max);
    return text;
}

std::string call_text(Step const& step)
{
    auto const one = [](std::optional<CalcCall> const& call) {
        return call ? call->calc + " " + call->inputs_json + " " + call->result : std::string();
    };
    std::string text = one(step.call) + "\n" + one(step.expected);
    for (auto const& path : step.compare)
        text += "\n" + path;
    return text;
}

std::string call_name(Step const& step)
{
    return step.call ? step.call->calc : step.expected ? step.expected->calc : "none";
}

std::string answers_text(Step const& step)
{
    std::string text;
    for (auto const& a : step.answers)
        text += (text.empty() ? "" : ", ") + a.label + (a.ok ? "" : " (not in order)");
    return text.empty() ? "none" : text;
}

bool same_answers(Step const& a, Step const& b)
{
    return std::equal(
        a.answers.begin(), a.answers.end(), b.answers.begin(), b.answers.end(),
        [](auto const& x, auto const& y) { return x.id == y.id && x.label == y.label && x.ok == y.ok; });
}

std::string needs_text(Step const& step)
{
    std::string text;
    for (auto const& need : step.needs)
        text += (text.empty() ? "" : ", ") + need;
    if (step.when) {
        text += (text.empty() ? "when " : "; when ") + step.when->step + " is";
        for (auto const& answer : step.when->answers)
            text += " " + answer;
    }
    return text.empty() ? "none" : text;
}

std::string rules_text(Step const& step)
{
    std::string text = step.may_override == OverridePolicy::never    ? "no override"
                       : step.may_override == OverridePolicy::reason ? "override with a reason"
                                                                     : "override with a PIN";
    if (step.hold)
        text += ", hold point";
    if (step.challenge)
        text += ", reader and doer";
    if (!step.may_defer)
        text += ", not to be put off";
    return text;
}

std::string kind_text(Step const& step)
{
    std::string text = step_kind_name(step.kind);
    if (step.kind == StepKind::measure)
        text += step.free_text ? ", text" : ", " + std::string(si_unit(step.dimension).name);
    for (auto const& column : step.columns)
        text += ", " + column.id + " in " + (column.units.empty() ? std::string() : column.units.front());
    return text;
}

std::string wording(Step const& step)
{
    std::string text = step.title + "\n" + step.text + "\n" + step.why + "\n" + step.wrong;
    for (auto const& caution : step.cautions)
        text += "\n" + caution;
    return text;
}

bool is_decided(StepStatus status)
{
    return is_closed(status) || status == StepStatus::failed || status == StepStatus::undecided;
}

/// One comparison under way.
class Comparison {
public:
    Comparison(Revision const& old, Revision const& next, JobState const& state)
        : m_old(old), m_next(next), m_state(state)
    {
        for (auto const& d : compare(old.profile, next.profile))
            if (d.kind == ProfileDifference::Kind::physical || d.kind == ProfileDifference::Kind::choice)
                m_changed_paths.insert(d.path);
    }

    RevisionMove run()
    {
        for (auto const& stage : m_next.checklists.stages)
            for (auto const& step : stage.steps)
                if (Step const* before = m_old.checklists.step(step.id))
                    compare_step(*before, step);
                else
                    add(Kind::added, step, {}, {});
        for (auto const& stage : m_old.checklists.stages)
            for (auto const& step : stage.steps)
                if (!m_next.checklists.step(step.id))
                    add(Kind::removed, step, status_name(m_state.record(step.id).status), {});
        for (auto const& d : compare(m_old.profile, m_next.profile))
            m_move.changes.push_back({Kind::profile, {}, d.label, d.a, d.b});
        reopen_users();
        return std::move(m_move);
    }

private:
    void add(Kind kind, Step const& step, std::string old_value, std::string new_value)
    {
        m_move.changes.push_back({kind, step.id, step.title, std::move(old_value), std::move(new_value)});
    }

    /// Lists a change where the two texts differ; tells whether they do.
    bool differ(Kind kind, Step const& step, std::string const& old_value, std::string const& new_value)
    {
        if (old_value == new_value)
            return false;
        add(kind, step, old_value, new_value);
        return true;
    }

    void compare_step(Step const& before, Step const& after)
    {
        bool const other_kind = differ(Kind::kind, after, kind_text(before), kind_text(after));
        bool const limit = limit_changed(before, after);
        if (limit)
            add(Kind::limit, after, limit_text(m_old, before), limit_text(m_next, after));
        bool const call = call_text(before) != call_text(after);
        if (call)
            add(Kind::calculation, after, call_name(before), call_name(after));
        bool const answers = !same_answers(before, after);
        if (answers)
            add(Kind::answers, after, answers_text(before), answers_text(after));
        bool const needs = differ(Kind::needs, after, needs_text(before), needs_text(after));
        differ(Kind::rules, after, rules_text(before), rules_text(after));
        bool const other_source = before.limit && after.limit && before.limit->source != after.limit->source;
        if (wording(before) != wording(after) || other_source)
            add(Kind::wording, after, before.title, after.title);
        if (!is_decided(m_state.record(after.id).status))
            return;
        if (other_kind)
            reopen(after, "The newer checklist asks for something else here.", true);
        else if (limit)
            reopen(after, "The limit changed: it was " + limit_text(m_old, before) + ", it is " +
                              limit_text(m_next, after) + ".");
        else if (call)
            reopen(after, "The calculation changed.");
        else if (answers)
            reopen(after, "The answers to choose from changed.");
        else if (std::string const path = changed_path(after); !path.empty())
            reopen(after, "A value of the breaker profile it reads changed: " + path + ".");
        else if (after.challenge && !before.challenge && m_state.record(after.id).reader.empty())
            reopen(after, "It now names who read it out and who did it.");
        else if (needs)
            reopen_for_need(before, after);
    }

    /// A profile value that is only written otherwise ("6.16 bar abs" for "0.616 MPa abs") is the same limit.
    bool limit_changed(Step const& before, Step const& after) const
    {
        auto const raw = [](Step const& step) {
            return step.limit ? step.limit->min + "\n" + step.limit->max : std::string();
        };
        if (raw(before) != raw(after))
            return true;
        std::set<std::string> paths;
        paths_in(raw(after), paths);
        return std::any_of(paths.begin(), paths.end(),
                           [&](auto const& path) { return m_changed_paths.contains(path); });
    }

    std::string changed_path(Step const& step) const
    {
        for (auto const& path : profile_paths(step))
            if (m_changed_paths.contains(path)) {
                ProfileField const* field = profile_field(path);
                return (field ? std::string(field->label) : path) + " " + m_old.profile.text(path, "none") +
                       " → " + m_next.profile.text(path, "none");
            }
        return {};
    }

    void reopen_for_need(Step const& before, Step const& after)
    {
        for (auto const& need : after.needs) {
            if (std::find(before.needs.begin(), before.needs.end(), need) != before.needs.end())
                continue;
            Step const* needed = m_next.checklists.step(need);
            if (needed && !is_closed(status_of(m_next.checklists, m_state, *needed)))
                return reopen(after, "It now comes after “" + needed->title + "”, which is not closed.");
        }
    }

    void reopen(Step const& step, std::string because, bool anew = false)
    {
        m_move.reopens.push_back({step.id, step.title, std::move(because), anew});
    }

    void reopen_users()
    {
        std::set<std::string> open;
        for (auto const& r : m_move.reopens)
            open.insert(r.step);
        auto const direct = m_move.reopens;
        for (auto const& r : direct)
            for (Step const* user : dependents(m_next.checklists, r.step)) {
                StepStatus const status = m_state.record(user->id).status;
                if (is_decided(status) && status != StepStatus::not_applicable &&
                    open.insert(user->id).second)
                    reopen(*user, "It used “" + r.title + "”, which opens again.");
            }
    }

    Revision m_old, m_next;
    JobState const& m_state;
    std::set<std::string> m_changed_paths;
    RevisionMove m_move;
};

} // namespace

char const* change_name(RevisionChange::Kind kind)
{
    switch (kind) {
    case Kind::added:
        return "added";
    case Kind::removed:
        return "removed";
    case Kind::kind:
        return "kind of step";
    case Kind::limit:
        return "limit";
    case Kind::calculation:
        return "calculation";
    case Kind::answers:
        return "answers";
    case Kind::needs:
        return "needs";
    case Kind::rules:
        return "rules";
    case Kind::wording:
        return "wording";
    case Kind::profile:
        return "profile";
    }
    return "wording";
}

std::string describe(RevisionChange const& change)
{
    std::string const name = change_name(change.kind);
    if (change.kind == Kind::added)
        return "Step added: " + change.title;
    if (change.kind == Kind::removed)
        return "Step removed: " + change.title + " (" + change.old_value + ")";
    std::string text = name + ", " + change.title;
    if (change.old_value != change.new_value)
        text += ": " + (change.old_value.empty() ? "none" : change.old_value) + " → " +
                (change.new_value.empty() ? "none" : change.new_value);
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

RevisionMove compare_revisions(Revision const& old, Revision const& next, JobState const& state)
{
    return Comparison(old, next, state).run();
}

} // namespace isochore::model
