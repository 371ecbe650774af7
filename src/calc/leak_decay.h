#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

[[nodiscard]] Result<Answer> leak_decay(Inputs& in);

} // namespace isochore::calc
