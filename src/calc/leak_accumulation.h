#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

[[nodiscard]] Result<Answer> leak_accumulation(Inputs& in);

} // namespace isochore::calc
