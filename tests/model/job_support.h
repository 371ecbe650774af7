#pragma once
#include "model/job_rules.h"

/// A small outage for the rules: two stages, a hold point, a branch, a calculation that uses a reading.
namespace isochore::model {

inline Checklists small_checklists()
{
    Checklists c;
    Stage safe;
    safe.id = "safe";
    safe.order = 1;
    Step dead;
    dead.id = "safe.dead";
    dead.title = "Prove dead";
    dead.hold = true;
    dead.physical = true;
    dead.may_override = OverridePolicy::never;
    dead.answers = {{"dead", "No voltage", true, ""}, {"live", "Voltage found", false, "Stop."}};
    safe.steps = {dead};
    Stage work;
    work.id = "work";
    work.order = 2;
    Step way;
    way.id = "work.way";
    way.kind = StepKind::choose;
    way.title = "Which way";
    way.answers = {{"a", "A", true, ""}, {"b", "B", true, ""}};
    Step only_a;
    only_a.id = "work.only_a";
    only_a.kind = StepKind::measure;
    only_a.title = "Only for A";
    only_a.when = StepCondition{"work.way", {"a"}};
    Step reading;
    reading.id = "work.reading";
    reading.kind = StepKind::measure;
    reading.title = "Read the gauge";
    reading.needs = {"stage:safe"};
    Step result;
    result.id = "work.result";
    result.kind = StepKind::compute;
    result.title = "Work it out";
    result.call = CalcCall{"gas.density", R"({"pressure":"step:work.reading"})", "", {"work.reading"}};
    Step after;
    after.id = "work.after";
    after.kind = StepKind::measure;
    after.title = "Read after";
    after.limit = StepLimit{"step:work.result.density", "", "calculation", true};
    work.steps = {way, only_a, reading, result, after};
    c.stages = {safe, work};
    return c;
}

inline Json created()
{
    return {{"type", "created"}, {"at", "2026-03-02T08:00:00+00:00"}, {"who", "A. Rowan"}};
}

inline Json recorded(char const* step, char const* typed, char const* verdict = "none")
{
    return {{"type", "recorded"},
            {"step", step},
            {"typed", typed},
            {"verdict", verdict},
            {"at", "2026-03-02T08:01:00+00:00"},
            {"who", "A. Rowan"}};
}

inline Json answered(char const* step, char const* answer, char const* verdict = "pass")
{
    return {{"type", "recorded"},
            {"step", step},
            {"answer", answer},
            {"verdict", verdict},
            {"at", "2026-03-02T08:01:00+00:00"},
            {"who", "A. Rowan"}};
}

} // namespace isochore::model
