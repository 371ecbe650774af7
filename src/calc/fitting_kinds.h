#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// fitting.chain: port, parts and sensor, joint by joint. A part is an id of assets/parts/fittings.json
/// (built in) or of "library", or an object like its entries; as used it may say seal, seal_material, towards
/// (elbow), inlet, outlet, closed_by.
[[nodiscard]] Result<Answer> chain_calc(Inputs& in);
/// fitting.identify: which thread is it, and what to measure next.
[[nodiscard]] Result<Answer> identify_calc(Inputs& in);
/// fitting.parts: the built-in parts and threads, for a picker.
[[nodiscard]] Result<Answer> parts_calc(Inputs& in);

} // namespace isochore::calc
