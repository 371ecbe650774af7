#include "drawing/time_plan.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>

namespace isochore::session {
namespace {

/// Times of the plan are for the people it was made with; with fewer at it a task was stretched.
double stretch_of(Json const& task)
{
    double const mean = number_member(task, "mean_minutes");
    double const taken = number_member(task, "finish_minutes") - number_member(task, "start_minutes");
    return mean > 0.0 && taken > 0.0 ? taken / mean : 1.0;
}

drawing::PlannedTask planned(Json const& task, Json const& critical, double used_min,
                             PictureQuestion const& q)
{
    drawing::PlannedTask t;
    std::string const title = text_member(task, "title");
    t.name = q.words(title);
    t.start_min = used_min + number_member(task, "start_minutes");
    t.finish_min = used_min + number_member(task, "finish_minutes");
    t.people = static_cast<int>(std::clamp(number_member(task, "people"), 0.0, 20.0));
    t.critical = critical.is_array() &&
                 std::find(critical.begin(), critical.end(), text_member(task, "id")) != critical.end();
    Json const minutes = member(task, "minutes");
    if (minutes.is_array() && minutes.size() == 3 && minutes[2].is_number())
        t.high_min = minutes[2].get<double>() * stretch_of(task);
    return t;
}

} // namespace

std::optional<drawing::Picture> plan_picture(PictureQuestion const& q)
{
    Json const tasks = q.fact("tasks"), critical = q.fact("critical_path");
    if (!tasks.is_array() || tasks.empty())
        return std::nullopt;
    drawing::TimePlan plan;
    double const used = std::max(0.0, number_member(q.fact("time_used"), "value")) / 60.0;
    for (auto const& task : tasks) {
        plan.tasks.push_back(planned(task, critical, used, q));
        if (text_member(task, "id") == text_member(q.inputs, "last_start"))
            plan.latest_start_of = plan.tasks.back().name;
    }
    if (double const left = q.figure("time_left"); std::isfinite(left))
        plan.window_min = used + left / 60.0;
    if (double const mean = q.figure("duration"); std::isfinite(mean)) {
        drawing::PlannedEnd end{used + mean / 60.0, 0.0, 0.0};
        Json const interval = member(q.fact("duration"), "interval95");
        if (interval.is_array() && interval.size() == 2 && interval[0].is_number() &&
            interval[1].is_number()) {
            end.low_min = used + interval[0].get<double>() / 60.0;
            end.high_min = used + interval[1].get<double>() / 60.0;
        }
        plan.end = end;
    }
    if (double const latest = q.figure("latest_start"); std::isfinite(latest) && latest >= 0.0)
        plan.latest_start_min = latest / 60.0;
    q.say({&plan.window_label, &plan.end_label, &plan.band_label, &plan.critical_label, &plan.slack_label,
           &plan.wait_label, &plan.latest_label, &plan.strip_label});
    q.say(plan.x_titles);
    return drawing::time_plan(plan, q.space, q.measure);
}

} // namespace isochore::session
