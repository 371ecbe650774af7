#pragma once
#include "calc/inputs.h"
#include "electrical/supervision.h"
#include "uncertainty/budget.h"

namespace isochore::calc {

/// Input voltage and supervision current of the closed breaker, with what the resistances and the supply are
/// not known to. From the member "uncertainties" (see uncertain.h); what is not given is exact.
struct SupervisionSpread {
    uncertainty::Budget input_healthy, current_healthy; ///< V, A
    uncertainty::Budget input_open, current_open;
};

/// Errors: as supervised_states, and what the uncertainties refuse.
[[nodiscard]] Result<SupervisionSpread> supervision_spread(Inputs& in,
                                                           electrical::SupervisedCircuit const& circuit);

} // namespace isochore::calc
