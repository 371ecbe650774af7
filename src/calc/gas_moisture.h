#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

[[nodiscard]] Result<Answer> gas_moisture(Inputs& in);

} // namespace isochore::calc
