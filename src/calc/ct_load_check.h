#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// ct.load_check: holds a reading against the known load, and ranks the taps and turns that would explain it.
/// Without "secondary_reading" it only predicts. See electrical/load_check.h for the probabilities.
[[nodiscard]] Result<Answer> ct_load_check(Inputs& in);

} // namespace isochore::calc
