#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

[[nodiscard]] Result<Answer> fill_target(Inputs& in);
[[nodiscard]] Result<Answer> fill_topup(Inputs& in);

} // namespace isochore::calc
