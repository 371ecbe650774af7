#include "session/plan.h"
#include "calc/part_library.h"
#include "calc/plan_kinds.h"
#include "calc/registry.h"
#include "calc/usual.h"
#include "planning/chance.h"
#include "json/member.h"
#include <algorithm>

namespace isochore::session {
namespace {

using model::Checklists;
using model::JobState;
using model::Stage;
using model::Step;
using planning::Task;

bool is_open(Checklists const& lists, JobState const& state, Step const& step)
{
    auto const status = model::status_of(lists, state, step);
    return !model::is_closed(status) && status != model::StepStatus::deferred;
}

/// Share of a stage's work that is open, by the likely minutes of its steps; from `from` on where it is
/// named.
double open_share(Checklists const& lists, JobState const& state, Stage const& stage, Step const* from)
{
    double all = 0.0, open = 0.0;
    bool counts = from == nullptr;
    for (Step const& step : stage.steps) {
        counts = counts || &step == from;
        if (model::applies(lists, state, step) == false)
            continue;
        all += step.minutes_likely;
        if (counts && is_open(lists, state, step))
            open += step.minutes_likely;
    }
    return all > 0.0 ? open / all : 0.0;
}

/// The planned times of a stage, cut to what is open. The needs are kept, so that the order stays.
std::vector<Task> open_tasks(Checklists const& lists, JobState const& state, Stage const* cut,
                             Step const* from)
{
    Json const data{{"tasks", member(calc::stage_data(), "tasks")}};
    calc::Inputs in(data, "stages.json");
    auto tasks = calc::read_tasks(in);
    for (Task& t : tasks) {
        Stage const* stage = lists.stage(t.stage);
        double const share = stage ? open_share(lists, state, *stage, stage == cut ? from : nullptr) : 0.0;
        t.low_s *= share;
        t.likely_s *= share;
        t.high_s *= share;
    }
    return tasks;
}

Json plan_inputs(Outage const& outage)
{
    Step const* plan = plan_step(outage.checklists());
    return plan ? resolve_inputs(outage.context(), *plan->call) : Json::object();
}

int crew_of(Outage const& outage, Json const& inputs)
{
    if (auto const crew = parse_amount(text_member(inputs, "crew"), Dimension::count, "crew"))
        return std::clamp(static_cast<int>(crew->si), 1, 20);
    return std::max<int>(1, static_cast<int>(outage.state().crew.size()));
}

/// As kit.plan takes it: what the checklist's plan step gives, else the usual value of that calculation.
double plan_share(Json const& inputs, char const* name)
{
    auto const given = parse_amount(text_member(inputs, name), Dimension::fraction, name);
    return given ? given->si : calc::usual_si("kit.plan", name, Dimension::fraction);
}

/// The moment of the first entry at a step of the first stage inside the window; 0: there is none.
std::int64_t window_from_ms(Outage const& outage)
{
    for (Stage const& stage : outage.checklists().stages) {
        if (stage.before_window)
            continue;
        std::int64_t first = -1;
        for (Step const& step : stage.steps)
            if (auto const& history = outage.state().record(step.id).history; !history.empty())
                first = first < 0 ? history.front() : std::min(first, history.front());
        return first < 0 ? 0 : stamp_ms(text_member(outage.bodies()[static_cast<std::size_t>(first)], "at"));
    }
    return 0;
}

std::vector<double> finishes(std::vector<Task> const& tasks, int crew, double common_u)
{
    if (tasks.empty() || !planning::check_tasks(tasks, crew, "plan"))
        return {};
    planning::ChanceCase c;
    c.crew = crew;
    c.common_u = common_u;
    auto const drawn = planning::finish_chance(tasks, c);
    return drawn ? drawn->finishes_s : std::vector<double>{};
}

double quantile(std::vector<double> const& sorted, double share)
{
    auto const last = static_cast<double>(sorted.size() - 1);
    return sorted[static_cast<std::size_t>(share * last)];
}

} // namespace

Step const* plan_step(Checklists const& checklists)
{
    for (Stage const& stage : checklists.stages)
        for (Step const& step : stage.steps)
            if (step.kind == model::StepKind::compute && step.call && step.call->calc == "kit.plan")
                return &step;
    return nullptr;
}

Result<calc::Answer> survey_plan(Outage const& outage)
{
    Step const* step = plan_step(outage.checklists());
    if (!step)
        return fail(Error::Code::not_found, "checklists", "no step of them works out the plan");
    return calc::run(step->call->calc, resolve_inputs(outage.context(), *step->call));
}

std::optional<PlanNow> LivePlan::now(Outage const& outage)
{
    auto const& state = outage.state();
    if (m_job != outage.job() || m_entries != state.entries) {
        m_job = outage.job();
        m_entries = state.entries;
        m_plan = {};
        auto const fact = state.facts.find("window");
        auto const window = fact == state.facts.end() ? Result<Amount>(tl::unexpected(Error{}))
                                                      : parse_amount(fact->second, Dimension::time, "window");
        m_plan.window_s = window ? window->si : 0.0;
        m_window_from_ms = window_from_ms(outage);
        m_plan.in_window = m_window_from_ms != 0;
        Json const inputs = plan_inputs(outage);
        int const crew = crew_of(outage, inputs);
        double const common_u = plan_share(inputs, "common_spread");
        m_plan.wanted_chance = plan_share(inputs, "wanted_chance");
        m_finishes_s = finishes(open_tasks(outage.checklists(), state, nullptr, nullptr), crew, common_u);
        m_last_start_finishes_s.clear();
        for (Stage const& stage : outage.checklists().stages)
            for (Step const& step : stage.steps) {
                if (!step.last_start)
                    continue;
                m_plan.last_start_title = step.title;
                m_plan.last_start_done = !is_open(outage.checklists(), state, step);
                auto const tasks = open_tasks(outage.checklists(), state, &stage, &step);
                for (std::size_t i = 0; i < tasks.size(); ++i)
                    if (tasks[i].stage == stage.id)
                        m_last_start_finishes_s = finishes(planning::from_task(tasks, i), crew, common_u);
            }
        double sum = 0.0;
        for (double f : m_finishes_s)
            sum += f;
        m_plan.remaining_s = m_finishes_s.empty() ? 0.0 : sum / static_cast<double>(m_finishes_s.size());
    }
    if (!(m_plan.window_s > 0.0) || m_finishes_s.empty())
        return std::nullopt;
    PlanNow plan = m_plan;
    if (plan.in_window)
        plan.used_s =
            std::max(0.0, static_cast<double>(outage.clock().now().utc_ms - m_window_from_ms) / 1e3);
    plan.left_s = plan.window_s - plan.used_s;
    plan.chance =
        static_cast<double>(std::upper_bound(m_finishes_s.begin(), m_finishes_s.end(), plan.left_s) -
                            m_finishes_s.begin()) /
        static_cast<double>(m_finishes_s.size());
    if (!plan.last_start_done && !m_last_start_finishes_s.empty())
        plan.last_start_in_s = plan.left_s - quantile(m_last_start_finishes_s, plan.wanted_chance);
    return plan;
}

} // namespace isochore::session
