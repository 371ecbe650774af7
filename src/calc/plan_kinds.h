#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"
#include "planning/schedule.h"
#include <map>
#include <vector>

namespace isochore::calc {

/// kit.plan: what to bring, what it costs, how long it takes and the chance of finishing inside the window.
/// All inputs may stand at the top or inside "job".
[[nodiscard]] Result<Answer> kit_plan(Inputs& in);

/// Tasks of the plan: "tasks" [{id, title, stage, minutes [low, likely, high] or low/likely/high as times,
/// people, least_people, waiting, needs [id]}], or the stages of assets/parts/stages.json. "done" ids are
/// left out, and "running" {id: time spent} shortens those, down to nothing.
[[nodiscard]] std::vector<planning::Task> read_tasks(Inputs& in);

/// Adds facts["kit"] and the cost, from the counts and parts of the survey: chain parts, resistor, runs,
/// fasteners, circuits, inputs, gas, instruments. Rules: assets/parts/kit.json and "kit_rules".
void add_kit(Inputs& in, Answer& answer, int crew);

} // namespace isochore::calc
