#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// Inputs  entries: [{"from":…, "to":…, "mass":…, "what": fill|recovery|handling_loss|leakage|transfer}],
///         stock: {"name": mass} of what each place held before (optional), gwp with gwp_source (optional).
/// A place named "air" is the atmosphere; what goes there is emitted.
/// Errors  out_of_range where a place would hold less than nothing.
[[nodiscard]] Result<Answer> emissions_ledger(Inputs& in);

} // namespace isochore::calc
