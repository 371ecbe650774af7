#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// input.resistor, see noise_resistor.h. A window that is empty is an answer with verdict fail, so that
/// the ruler can still be drawn; `possible` says so and `collision` names the two that collide.
[[nodiscard]] Result<Answer> resistor_calc(Inputs& in);

/// input.supervision: what input and supervision see with the coil healthy and open.
[[nodiscard]] Result<Answer> supervision_calc(Inputs& in);

/// input.wiring: from what the survey found to one of the connection kinds, with the reasons in numbers.
[[nodiscard]] Result<Answer> wiring_calc(Inputs& in);

} // namespace isochore::calc
