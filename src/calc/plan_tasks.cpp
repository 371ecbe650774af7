#include "calc/counts.h"
#include "calc/part_library.h"
#include "calc/plan_kinds.h"
#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace isochore::calc {
namespace {

using planning::Task;
using Code = Error::Code;

void read_minutes(Inputs& in, Task& t)
{
    Json const& minutes = in.raw("minutes");
    if (minutes.is_null()) {
        t.low_s = in.quantity("low", Dimension::time);
        t.likely_s = in.quantity("likely", Dimension::time);
        t.high_s = in.quantity("high", Dimension::time);
        return;
    }
    bool const three =
        minutes.is_array() && minutes.size() == 3 &&
        std::all_of(minutes.begin(), minutes.end(), [](Json const& m) { return m.is_number(); });
    if (!three)
        return in.refuse(Code::invalid_input, "minutes", "must be three numbers: low, likely, high");
    t.low_s = minutes[0].get<double>() * 60.0;
    t.likely_s = minutes[1].get<double>() * 60.0;
    t.high_s = minutes[2].get<double>() * 60.0;
}

std::vector<std::string> read_ids(Inputs& in, char const* name)
{
    std::vector<std::string> ids;
    Json const& list = in.raw(name);
    if (list.is_null())
        return ids;
    if (!list.is_array())
        in.refuse(Code::invalid_input, name, "must be a list of ids");
    else
        for (Json const& id : list)
            if (id.is_string())
                ids.push_back(id.get<std::string>());
            else
                in.refuse(Code::invalid_input, name, "each id is text in quotes");
    return ids;
}

/// A task with its needs still as ids.
struct NamedTask {
    Task task;
    std::vector<std::string> needs;
};

NamedTask read_task(Inputs& in)
{
    NamedTask named;
    Task& t = named.task;
    t.id = in.text("id");
    t.title = in.text_or("title", t.id);
    t.stage = in.text_or("stage", "");
    read_minutes(in, t);
    t.people = read_count_or(in, "people", 1, 100, 1);
    t.least_people = read_count_or(in, "least_people", 1, 100, 1);
    t.waiting = in.flag_or("waiting", false);
    named.needs = read_ids(in, "needs");
    in.refuse_unread();
    return named;
}

std::vector<NamedTask> read_named(Inputs& in)
{
    std::vector<NamedTask> all;
    bool const own = in.has("tasks");
    (void)in.raw("tasks");
    if (!own)
        in.note("tasks not given: the stages with their usual times are taken (common practice, no source)");
    Inputs built_in(stage_data(), "stages.json");
    Inputs& from = own ? in : built_in;
    for (Inputs& one : from.list("tasks")) {
        all.push_back(read_task(one));
        in.absorb(one);
    }
    in.absorb(from);
    if (all.empty() && !in.error())
        in.refuse(Code::missing_input, "tasks", "the list is empty: there is nothing to plan");
    return all;
}

/// Time already spent on a running task comes off all three times.
void shorten_running(Inputs& in, std::vector<NamedTask>& all)
{
    Json const& running = in.raw("running");
    if (running.is_null())
        return;
    Inputs spent = in.object("running");
    for (NamedTask& n : all)
        if (spent.has(n.task.id)) {
            double const s = spent.quantity(n.task.id, Dimension::time);
            for (double* t : {&n.task.low_s, &n.task.likely_s, &n.task.high_s})
                *t = std::max(0.0, *t - s);
        }
    spent.refuse_unread();
    in.absorb(spent);
}

} // namespace

std::vector<Task> read_tasks(Inputs& in)
{
    auto all = read_named(in);
    auto const done = read_ids(in, "done");
    shorten_running(in, all);
    std::set<std::string> const finished(done.begin(), done.end());
    std::map<std::string, std::size_t> position;
    std::set<std::string> known;
    std::vector<Task> tasks;
    for (NamedTask const& n : all) {
        if (!known.insert(n.task.id).second)
            in.refuse(Code::invalid_input, "tasks", fmt::format("the id \"{}\" stands twice", n.task.id));
        if (finished.contains(n.task.id))
            continue;
        position[n.task.id] = tasks.size();
        tasks.push_back(n.task);
    }
    for (auto const& id : done)
        if (!known.contains(id) && !in.error())
            in.refuse(Code::unknown, "done", fmt::format("there is no task \"{}\"", id));
    for (NamedTask const& n : all) {
        auto const self = position.find(n.task.id);
        for (auto const& need : n.needs) {
            if (!known.contains(need) && !in.error())
                in.refuse(Code::unknown, "tasks",
                          fmt::format("\"{}\" needs \"{}\", which is not in the list", n.task.id, need));
            if (auto const at = position.find(need); at != position.end() && self != position.end())
                tasks[self->second].needs.push_back(at->second);
        }
    }
    return tasks;
}

} // namespace isochore::calc
