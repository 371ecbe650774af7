#pragma once
#include "quantity/result.h"
#include <string_view>

namespace isochore::electrical {

/// A live-zero current loop: `low` at zero_a, `high` at full_a. The unit of low and high is the caller's.
struct CurrentLoop {
    double low = 0.0, high = 1.0;
    double zero_a = 0.004, full_a = 0.020; ///< the live zero that gives the loop its name
    double open_below_a = 0.004;           ///< less is a broken wire or a failed sensor
    double short_above_a = 0.020;          ///< more is a short or a failed sensor
    double valid_from_a = 0.004;           ///< outside valid_from to valid_to the value is held, not measured
    double valid_to_a = 0.020;
};

enum class LoopState { open_loop, under_range, measuring, over_range, shorted };
[[nodiscard]] std::string_view loop_state_name(LoopState state);

/// Errors: out_of_range when the range has no span or the currents are not in the order
/// open <= valid_from <= zero < full <= valid_to <= short.
[[nodiscard]] Result<void> check_loop(CurrentLoop const& loop, std::string_view where);

/// Formula value = low + (I - I0) / (I1 - I0) (high - low), also outside the range.
[[nodiscard]] double loop_value(CurrentLoop const& loop, double current_a);
/// The same the other way round.
[[nodiscard]] double loop_current_a(CurrentLoop const& loop, double value);

[[nodiscard]] LoopState loop_state(CurrentLoop const& loop, double current_a);

} // namespace isochore::electrical
