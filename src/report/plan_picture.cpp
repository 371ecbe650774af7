#include "drawing/axis.h"
#include "drawing/time_plan.h"
#include "report/flow.h"
#include "report/job_pack_pdf.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::report {
namespace {

double not_negative(double minutes)
{
    return drawing::drawable(minutes) ? std::max(0.0, minutes) : 0.0;
}

drawing::PlannedTask planned(PlanLine const& line)
{
    double const start = not_negative(line.start_min), likely = not_negative(line.likely_min);
    drawing::PlannedTask task;
    task.name = line.stage;
    task.start_min = start;
    task.finish_min = line.finish_min ? std::max(start, not_negative(*line.finish_min)) : start + likely;
    task.high_min = not_negative(line.high_min);
    task.people = line.people;
    task.critical = line.critical;
    task.note = fmt::format("{:.0f} / {:.0f} / {:.0f}", not_negative(line.low_min), likely, task.high_min);
    return task;
}

} // namespace

drawing::Picture plan_picture(JobPack const& pack, double width_mm, drawing::MeasureText const& measure)
{
    drawing::TimePlan plan;
    plan.print_mm = paper_size::body;
    for (auto const& line : pack.plan)
        plan.tasks.push_back(planned(line));
    plan.window_min = pack.window_min;
    plan.end = pack.plan_end;
    plan.note_label = language::said("minutes: least / likely / most");
    for (std::string* text : {&plan.window_label, &plan.end_label, &plan.band_label, &plan.critical_label,
                              &plan.slack_label, &plan.wait_label, &plan.strip_label, &plan.note_label})
        *text = language::translated(pack.translate, *text);
    for (std::string& text : plan.x_titles)
        text = language::translated(pack.translate, text);
    return drawing::time_plan(plan, {width_mm, drawing::time_plan_height(plan, width_mm)}, measure);
}

} // namespace isochore::report
