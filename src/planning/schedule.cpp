#include "planning/schedule.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::planning {
namespace {

using Code = Error::Code;

/// Depth-first walk that finds a circle in the needs; 0 not seen, 1 on the way, 2 done.
bool circles(std::span<Task const> tasks, std::size_t at, std::vector<int>& seen, std::size_t& culprit)
{
    seen[at] = 1;
    for (std::size_t need : tasks[at].needs) {
        if (seen[need] == 1) {
            culprit = need;
            return true;
        }
        if (seen[need] == 0 && circles(tasks, need, seen, culprit))
            return true;
    }
    seen[at] = 2;
    return false;
}

Result<void> check_one(Task const& t, int crew, std::string const& place)
{
    if (!(t.low_s >= 0.0) || !(t.low_s <= t.likely_s) || !(t.likely_s <= t.high_s) ||
        !std::isfinite(t.high_s))
        return fail(Code::out_of_range, place,
                    fmt::format("\"{}\": low, likely and high must rise: {:g}, {:g}, {:g} min", t.title,
                                t.low_s / 60.0, t.likely_s / 60.0, t.high_s / 60.0));
    if (t.people < 1 || t.least_people < 1 || t.least_people > t.people)
        return fail(Code::out_of_range, place,
                    fmt::format("\"{}\": people must be at least least_people and 1", t.title));
    if (t.least_people > crew && !t.waiting)
        return fail(Code::no_solution, place,
                    fmt::format("\"{}\" needs at least {} people and the crew has {}", t.title,
                                t.least_people, crew));
    return {};
}

int people_at(Task const& t, int crew)
{
    return t.waiting ? 0 : std::min(t.people, crew);
}

double stretched_s(Task const& t, double duration_s, int crew)
{
    return t.waiting ? duration_s : duration_s * t.people / std::min(t.people, crew);
}

/// Work that stands behind a task: its own time and the longest chain of those that need it.
std::vector<double> work_behind(std::span<Task const> tasks, int crew)
{
    std::vector<std::vector<std::size_t>> after(tasks.size());
    for (std::size_t i = 0; i < tasks.size(); ++i)
        for (std::size_t need : tasks[i].needs)
            after[need].push_back(i);
    std::vector<double> behind(tasks.size(), -1.0);
    // Tasks are few and the needs without circle, so plain recursion by repetition is enough.
    auto const visit = [&](auto const& self, std::size_t i) -> double {
        if (behind[i] >= 0.0)
            return behind[i];
        double longest = 0.0;
        for (std::size_t next : after[i])
            longest = std::max(longest, self(self, next));
        return behind[i] = stretched_s(tasks[i], mean_s(tasks[i]), crew) + longest;
    };
    for (std::size_t i = 0; i < tasks.size(); ++i)
        (void)visit(visit, i);
    return behind;
}

/// Earliest moment from `ready` on at which people are free, and the task that freed them.
struct Opening {
    double at_s;
    int freed_by;
};

int busy_at(std::vector<Slot const*> const& active, double moment)
{
    int busy = 0;
    for (Slot const* s : active)
        if (s->start_s <= moment && moment < s->finish_s)
            busy += s->people;
    return busy;
}

/// The need for people is highest at the start of a slot or of one that begins within it.
bool fits(std::vector<Slot const*> const& active, double at, double duration, int free_people)
{
    if (busy_at(active, at) > free_people)
        return false;
    for (Slot const* s : active)
        if (s->start_s > at && s->start_s < at + duration && busy_at(active, s->start_s) > free_people)
            return false;
    return true;
}

/// Only the finish of a placed task can free people, so only those moments are tried.
Opening opening(std::vector<Slot> const& slots, std::span<std::size_t const> placed, double ready,
                double duration, int free_people)
{
    std::vector<Slot const*> active;
    std::vector<std::pair<double, int>> moments{{ready, -1}};
    for (std::size_t k : placed)
        if (slots[k].people > 0 && slots[k].finish_s > ready) {
            active.push_back(&slots[k]);
            moments.emplace_back(slots[k].finish_s, static_cast<int>(k));
        }
    std::sort(moments.begin(), moments.end());
    for (auto const& [at, by] : moments)
        if (fits(active, at, duration, free_people))
            return {at, by};
    return {moments.back().first, moments.back().second};
}

} // namespace

Result<void> check_tasks(std::span<Task const> tasks, int crew, std::string_view where)
{
    std::string const place(where);
    if (crew < 1)
        return fail(Code::out_of_range, place + ".crew", "a crew has at least one person");
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        std::string const at = fmt::format("{}.tasks[{}]", place, i);
        if (auto const good = check_one(tasks[i], crew, at); !good)
            return good;
        for (std::size_t need : tasks[i].needs)
            if (need >= tasks.size())
                return fail(Code::unknown, at, "needs a task that is not in the list");
    }
    std::vector<int> seen(tasks.size(), 0);
    std::size_t culprit = 0;
    for (std::size_t i = 0; i < tasks.size(); ++i)
        if (seen[i] == 0 && circles(tasks, i, seen, culprit))
            return fail(Code::no_solution, place + ".tasks",
                        fmt::format("the needs run in a circle through \"{}\": none of them could ever start",
                                    tasks[culprit].title));
    return {};
}

std::vector<Task> from_task(std::span<Task const> tasks, std::size_t first)
{
    std::vector<bool> kept(tasks.size(), false);
    kept[first] = true;
    for (bool grown = true; grown;) {
        grown = false;
        for (std::size_t i = 0; i < tasks.size(); ++i)
            if (!kept[i] && std::any_of(tasks[i].needs.begin(), tasks[i].needs.end(),
                                        [&](std::size_t n) { return kept[n]; }))
                kept[i] = grown = true;
    }
    std::vector<std::size_t> position(tasks.size(), 0);
    std::vector<Task> out;
    for (std::size_t i = 0; i < tasks.size(); ++i)
        if (kept[i]) {
            position[i] = out.size();
            out.push_back(tasks[i]);
        }
    for (Task& t : out) {
        std::vector<std::size_t> needs;
        for (std::size_t n : t.needs)
            if (kept[n])
                needs.push_back(n);
        t.needs = std::move(needs);
    }
    for (Task& t : out)
        for (std::size_t& n : t.needs)
            n = position[n];
    return out;
}

double mean_s(Task const& t)
{
    return (t.low_s + 4.0 * t.likely_s + t.high_s) / 6.0;
}

std::vector<std::size_t> priority_order(std::span<Task const> tasks, int crew)
{
    auto const behind = work_behind(tasks, crew);
    std::vector<std::size_t> order;
    std::vector<bool> taken(tasks.size(), false);
    while (order.size() < tasks.size()) {
        std::size_t best = tasks.size();
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            bool const ready = !taken[i] && std::all_of(tasks[i].needs.begin(), tasks[i].needs.end(),
                                                        [&](std::size_t n) { return taken[n]; });
            if (ready && (best == tasks.size() || behind[i] > behind[best]))
                best = i;
        }
        if (best == tasks.size())
            break; // not reached: check_tasks found no circle
        taken[best] = true;
        order.push_back(best);
    }
    return order;
}

Schedule place(std::span<Task const> tasks, std::span<double const> durations_s, int crew,
               std::span<std::size_t const> order)
{
    Schedule out;
    out.slots.resize(tasks.size());
    for (std::size_t n = 0; n < order.size(); ++n) {
        std::size_t const i = order[n];
        Task const& t = tasks[i];
        Slot& slot = out.slots[i];
        double ready = 0.0;
        int waits_for = -1;
        for (std::size_t need : t.needs)
            if (out.slots[need].finish_s >= ready) {
                ready = out.slots[need].finish_s;
                waits_for = static_cast<int>(need);
            }
        double const duration = stretched_s(t, durations_s[i], crew);
        int const people = people_at(t, crew);
        if (people > 0) {
            Opening const open = opening(out.slots, order.subspan(0, n), ready, duration, crew - people);
            if (open.freed_by >= 0)
                waits_for = open.freed_by;
            ready = open.at_s;
        }
        slot = {ready, ready + duration, people, waits_for};
        out.finish_s = std::max(out.finish_s, slot.finish_s);
    }
    int last = -1;
    for (std::size_t i = 0; i < tasks.size(); ++i)
        if (last < 0 || out.slots[i].finish_s > out.slots[static_cast<std::size_t>(last)].finish_s)
            last = static_cast<int>(i);
    for (int i = last; i >= 0; i = out.slots[static_cast<std::size_t>(i)].waits_for)
        out.critical.push_back(static_cast<std::size_t>(i));
    std::reverse(out.critical.begin(), out.critical.end());
    return out;
}

Schedule place(std::span<Task const> tasks, std::span<double const> durations_s, int crew)
{
    return place(tasks, durations_s, crew, priority_order(tasks, crew));
}

} // namespace isochore::planning
