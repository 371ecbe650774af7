#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// What "nothing found" shows when joints were probed one by one with soap film or a detector.
[[nodiscard]] Result<Answer> leak_probe(Inputs& in);

} // namespace isochore::calc
