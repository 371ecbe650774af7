#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// timing.limits: a rated interrupting time in cycles of the power frequency, in seconds, with a tolerance
/// (a share or a time) and, where given, the spreads between poles. Every limit is an input.
[[nodiscard]] Result<Answer> timing_limits(Inputs& in);

} // namespace isochore::calc
