#pragma once
#include "quantity/unit.h"
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::model {

/// The closed set of step kinds. A new kind needs code, a new step does not.
enum class StepKind { confirm, measure, compute, choose, log, attach };
[[nodiscard]] char const* step_kind_name(StepKind kind);

/// May a failed or undecided step be passed, and how.
enum class OverridePolicy { never, reason, reason_and_pin };

/// One possible answer of a confirm or choose step. A confirm step stores the answer seen, never a tick;
/// an answer that is not `ok` fails the step.
struct StepAnswer {
    std::string id;
    std::string label;
    bool ok = true;
    std::string then; ///< what to do when this is the answer; may be empty
};

/// Where an input of a calculation comes from:
///   "profile:PATH"   a value of the breaker profile
///   "step:ID"        what was recorded at a step, as typed; for a choose step the answer's id
///   "step:ID.NAME"   a result of a compute step ("step:fill.topup.mass_to_add"), as "value unit"
///   "job:NAME"       a fact of the job (station, bay, serial, altitude, window)
///   "series:ID"      the readings of a log step, as an array of arrays in column order, times as "12 s"
/// anything else is the literal itself. Inputs may be nested objects and arrays of these, kept as JSON text.
struct CalcCall {
    std::string calc;
    std::string inputs_json = "{}";
    std::string result; ///< for predictions: the name of the result or expected figure that is meant
    /// Ids of the steps its inputs mention, found by the reader.
    std::vector<std::string> uses;
};

/// A limit on a measured value; sides may be "profile:PATH", "step:ID.NAME" or a literal amount.
struct StepLimit {
    std::string min, max;
    std::string source;
    bool confirmed = false;
};

struct LogColumn {
    std::string id, label;
    Dimension dimension = Dimension::fraction;
    std::vector<std::string> units; ///< offered on the keypad, the usual one first
    std::string plausible_min, plausible_max; ///< outside: asked about, not blocked
    std::string possible_min, possible_max;   ///< outside: blocked
};

/// Shows a step only when an earlier choose or confirm step has one of these answers; otherwise the step is
/// not applicable.
struct StepCondition {
    std::string step;
    std::vector<std::string> answers;
};

struct Step {
    std::string id; ///< "fill.pressure_before": stage, dot, name
    StepKind kind = StepKind::confirm;
    std::string title;                 ///< what to do, a few words
    std::string text;                  ///< one or two sentences for the crew
    std::string why;                   ///< the reason
    std::string wrong;                 ///< what to do if it goes wrong
    std::vector<std::string> cautions; ///< ids in Checklists::cautions, shown at the step
    std::vector<std::string> needs;    ///< steps or stages ("stage:safe") that must be closed first
    std::optional<StepCondition> when;
    bool last_start = false; ///< work that must not be begun unless the window still holds all that follows
    bool more_parts = false; ///< choose: fittings that the store's people added are answers too
    bool hold = false;       ///< a hold point: nothing that needs it opens until it is closed
    bool physical = false;   ///< to be confirmed again after a long gap
    bool challenge = false;  ///< challenge and response: names a reader and a doer
    OverridePolicy may_override = OverridePolicy::reason;
    bool may_defer = true;
    std::string source; ///< where step or limit comes from ("common practice, no source")
    double minutes_low = 1, minutes_likely = 1, minutes_high = 1;

    std::vector<StepAnswer> answers; ///< confirm, choose
    /// confirm: settings that must be read back from the unit. Where there are any, the answer is found by
    /// comparing what the unit shows with what was loaded; nobody can choose it.
    std::vector<std::string> compare;

    Dimension dimension = Dimension::fraction; ///< measure
    std::vector<std::string> units;            ///< unit chips, the first is the default ("bar g")
    std::string plausible_min, plausible_max;  ///< outside: asked about, not blocked
    std::string possible_min, possible_max;    ///< outside: blocked
    std::optional<StepLimit> limit;
    std::string instrument;           ///< kind of instrument used, for the record and the budget
    std::optional<CalcCall> expected; ///< prediction before the reading
    bool free_text = false;           ///< measure: a text (serial number, drawing sheet) instead of a number

    std::optional<CalcCall> call;  ///< compute, log
    std::vector<std::string> show; ///< compute: results to show large, in order
    std::string picture; ///< name of the picture beside the step (files/checklist_step.cpp lists them); may be
                         ///< empty
    std::vector<LogColumn> columns; ///< log
    double interval_s = 120.0;      ///< log: reminder
};

/// One stage of the outage: one switching device of the line.
struct Stage {
    std::string id;    ///< "fill"
    int order = 0;     ///< 1..11
    std::string title; ///< "Fill"
    std::string brief; ///< label under the line, at most 12 characters
    std::string about;
    bool before_window = false; ///< done before the outage: takes none of its window
    int revision = 1;
    std::string date, source;
    std::vector<Step> steps;
    std::string file; ///< file name it was read from
};

struct Caution {
    std::string id, title, text;
};

/// All stages of the outage in order.
struct Checklists {
    std::vector<Stage> stages;
    std::map<std::string, Caution, std::less<>> cautions;
    [[nodiscard]] Step const* step(std::string_view id) const;
    [[nodiscard]] Stage const* stage(std::string_view id) const;
    [[nodiscard]] Stage const* stage_of(std::string_view step_id) const;
};

} // namespace isochore::model
