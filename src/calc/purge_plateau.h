#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

[[nodiscard]] Result<Answer> purge_plateau(Inputs& in);
[[nodiscard]] Result<Answer> purge_dilution(Inputs& in);

} // namespace isochore::calc
