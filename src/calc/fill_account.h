#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

[[nodiscard]] Result<Answer> fill_account(Inputs& in);

} // namespace isochore::calc
