#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

[[nodiscard]] Result<Answer> leak_forecast(Inputs& in);

} // namespace isochore::calc
