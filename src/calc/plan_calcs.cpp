#include "calc/counts.h"
#include "calc/plan_kinds.h"
#include "calc/registry.h"
#include "calc/usual.h"
#include "planning/chance.h"
#include "uncertainty/interval.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace planning;
using Code = Error::Code;

std::string minutes(double s)
{
    return fmt::format("{:.0f} min", s / 60.0);
}

struct PlanCase {
    ChanceCase chance;
    double wanted = 0.0;
    double used_s = 0.0;
    double window_s = 0.0;
};

double share(Inputs& in, char const* name)
{
    double const got = given_or_usual(in, "kit.plan", name, Dimension::fraction);
    if (!(got >= 0.0) || got >= 1.0)
        in.refuse(Code::out_of_range, name, "must be 0 to below 100 %");
    return got;
}

PlanCase read_case(Inputs& in)
{
    PlanCase c;
    c.chance.crew = count_or_usual(in, "kit.plan", "crew", 1, 20);
    c.window_s = in.quantity("window", Dimension::time);
    c.used_s = in.quantity_or("time_used", Dimension::time, 0.0);
    if (!in.error() && !(c.window_s > 0.0))
        in.refuse(Code::out_of_range, "window", "must be above zero");
    if (c.used_s < 0.0)
        in.refuse(Code::out_of_range, "time_used", "cannot be negative");
    c.wanted = share(in, "wanted_chance");
    c.chance.common_u = share(in, "common_spread");
    c.chance.window_s = c.window_s - c.used_s;
    return c;
}

Json task_facts(std::vector<Task> const& tasks, Schedule const& plan, Chance const& chance)
{
    Json list = Json::array();
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        Task const& t = tasks[i];
        list.push_back({{"id", t.id},
                        {"title", t.title},
                        {"stage", t.stage},
                        {"minutes", {t.low_s / 60.0, t.likely_s / 60.0, t.high_s / 60.0}},
                        {"mean_minutes", mean_s(t) / 60.0},
                        {"start_minutes", plan.slots[i].start_s / 60.0},
                        {"finish_minutes", plan.slots[i].finish_s / 60.0},
                        {"people", plan.slots[i].people},
                        {"criticality", chance.criticality[i]}});
    }
    return list;
}

std::vector<double> means_of(std::vector<Task> const& tasks)
{
    std::vector<double> means;
    for (Task const& t : tasks)
        means.push_back(mean_s(t));
    return means;
}

/// The same plan with one to four people, so that one sees what another pair of hands is worth.
Json crew_options(std::vector<Task> const& tasks, ChanceCase c)
{
    Json list = Json::array();
    for (int crew = 1; crew <= 4; ++crew) {
        c.crew = crew;
        c.draws = 1000;
        if (!check_tasks(tasks, crew, ""))
            continue;
        if (auto const chance = finish_chance(tasks, c))
            list.push_back(
                {{"crew", crew}, {"chance", chance->chance}, {"mean_minutes", chance->mean_s / 60.0}});
    }
    return list;
}

void judge(Answer& answer, PlanCase const& c, Chance const& chance, std::vector<Task> const& tasks)
{
    double const reach = uncertainty::normal_coverage * chance.u_chance;
    double const low = chance.chance - reach, high = chance.chance + reach;
    Verdict const v = low >= c.wanted ? Verdict::pass : high < c.wanted ? Verdict::fail : Verdict::undecided;
    double const needed_s = chance.quantile_s(c.wanted);
    std::string remedy;
    if (v != Verdict::pass) {
        std::size_t worst = 0;
        for (std::size_t i = 1; i < tasks.size(); ++i)
            if (chance.criticality[i] * (tasks[i].high_s - tasks[i].low_s) >
                chance.criticality[worst] * (tasks[worst].high_s - tasks[worst].low_s))
                worst = i;
        remedy = fmt::format("A window of {} would do ({} more), or prepare \"{}\" better: it decides most.",
                             minutes(needed_s + c.used_s),
                             minutes(std::max(0.0, needed_s - c.chance.window_s)), tasks[worst].title);
    }
    answer.checks.push_back(
        {"window", v,
         fmt::format("chance of finishing inside {}: {:.1f} % ± {:.1f} %, {:.0f} % wanted",
                     minutes(c.chance.window_s), chance.chance * 100.0, reach * 100.0,
                     c.wanted * 100.0),
         remedy, "guarded"});
}

void report(Answer& answer, PlanCase const& c, std::vector<Task> const& tasks, Schedule const& plan,
            Chance const& chance)
{
    answer.results.push_back({"duration", chance.mean_s, "s", chance.u_s, chance.low_s, chance.high_s});
    answer.add("chance", chance.chance, "1", chance.u_chance);
    answer.add("time_used", c.used_s, "s").add("time_left", c.chance.window_s, "s");
    answer.add("slack", c.chance.window_s - chance.mean_s, "s", chance.u_s);
    answer.add("slack_at_wanted_chance", c.chance.window_s - chance.quantile_s(c.wanted), "s");
    answer.facts["tasks"] = task_facts(tasks, plan, chance);
    Json path = Json::array();
    std::string names;
    for (std::size_t i : plan.critical) {
        path.push_back(tasks[i].id);
        names += (names.empty() ? "" : " + ") + minutes(plan.slots[i].finish_s - plan.slots[i].start_s);
    }
    answer.facts["critical_path"] = std::move(path);
    answer.facts["crew_options"] = crew_options(tasks, c.chance);
    answer.expected.push_back({"finish_after", c.used_s + chance.mean_s, "s", chance.u_s,
                               c.used_s + chance.low_s, c.used_s + chance.high_s});
    answer.working.push_back(
        {"mean of a step = (low + 4 likely + high) / 6; finish = longest chain through needs and people",
         fmt::format("{} = {}", names, minutes(plan.finish_s)), "PERT; steps placed longest work first"});
    answer.working.push_back(
        {"chance = share of draws that finish inside the window",
         fmt::format("{} draws, mean {}, 95 % within {} to {}", c.chance.draws, minutes(chance.mean_s),
                     minutes(chance.low_s), minutes(chance.high_s)),
         "Monte Carlo, JCGM 101"});
    // A step's share: how often it decides times how far it may spread.
    double total = 0.0;
    std::vector<double> weight;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        double const u = (tasks[i].high_s - tasks[i].low_s) / 6.0 * chance.criticality[i];
        weight.push_back(u * u);
        total += u * u;
    }
    for (std::size_t i = 0; i < tasks.size(); ++i)
        if (total > 0.0 && weight[i] > 0.0)
            answer.budget.push_back(
                {tasks[i].title, std::sqrt(weight[i]), weight[i] / total, "low and high of the step"});
}

/// The latest moment, from the start of the window, to begin a task with all that hangs on it behind it.
Result<void> report_last_start(Answer& answer, PlanCase const& c, std::vector<Task> const& tasks,
                               std::string const& id)
{
    auto const at = std::find_if(tasks.begin(), tasks.end(), [&](Task const& t) { return t.id == id; });
    if (at == tasks.end())
        return {}; // begun and finished already
    auto const left = finish_chance(from_task(tasks, static_cast<std::size_t>(at - tasks.begin())), c.chance);
    if (!left)
        return tl::unexpected(left.error());
    double const latest = c.window_s - left->quantile_s(c.wanted);
    answer.add("latest_start", latest, "s");
    bool const possible = latest >= c.used_s;
    answer.checks.push_back(
        {"latest start", possible ? Verdict::pass : Verdict::fail,
         possible
             ? fmt::format("“{}” may be begun until {} into the window: later it would not be finished "
                           "with {:.0f} %",
                           at->title, minutes(latest), c.wanted * 100.0)
             : fmt::format("\"{}\" should not be begun any more: {} are left, {} are needed", at->title,
                           minutes(std::max(0.0, c.window_s - c.used_s)),
                           minutes(left->quantile_s(c.wanted))),
         possible ? "" : "Leave it closed, and agree another window for it.", "guarded"});
    return {};
}

Result<Answer> plan(Inputs& in)
{
    PlanCase const c = read_case(in);
    std::string const last_start = in.text_or("last_start", "");
    auto const tasks = read_tasks(in);
    Answer answer;
    if (!in.error())
        add_kit(in, answer, c.chance.crew);
    if (in.error())
        return tl::unexpected(*in.error());
    if (tasks.empty()) {
        answer.add("time_used", c.used_s, "s").add("time_left", c.chance.window_s, "s");
        answer.notes.push_back("Every task is done.");
        return answer;
    }
    if (auto const good = check_tasks(tasks, c.chance.crew, "inputs"); !good)
        return tl::unexpected(good.error());
    auto const chance = finish_chance(tasks, c.chance);
    if (!chance)
        return tl::unexpected(chance.error());
    report(answer, c, tasks, place(tasks, means_of(tasks), c.chance.crew), *chance);
    judge(answer, c, *chance, tasks);
    if (!last_start.empty())
        if (auto const said = report_last_start(answer, c, tasks, last_start); !said)
            return tl::unexpected(said.error());
    if (c.chance.crew == 1)
        answer.notes.push_back(
            "Working alone near stored energy, live dc or gas is for local rules to allow or forbid.");
    return answer;
}

} // namespace

/// See plan_kinds.h. With "job" the inputs are its members.
Result<Answer> kit_plan(Inputs& in)
{
    if (!in.has("job"))
        return plan(in);
    Inputs job = in.object("job");
    auto answer = plan(job);
    job.refuse_unread();
    in.absorb(job);
    return answer;
}

std::span<Calculation const> plan_calculations()
{
    static constexpr Calculation table[] = {
        {"kit.plan", "what to bring, how long it takes, the chance of finishing inside the window", kit_plan},
    };
    return table;
}

} // namespace isochore::calc
