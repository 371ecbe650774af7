#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// ct.phases: do the three coils sit alike? From the three readings and the reading of their sum.
[[nodiscard]] Result<Answer> ct_phases(Inputs& in);

} // namespace isochore::calc
