#pragma once
#include "gas/helmholtz.h"

namespace isochore::gas {

/// Adds one non-analytic term n Delta^b delta psi (Span & Wagner 1996, eq. 6.1 and table 32).
void add_non_analytic(NonAnalyticTerm const& term, double tau, double delta, CaloricDerivatives& sum);
void add_non_analytic(NonAnalyticTerm const& term, double tau, double delta, DensityDerivatives& sum);

} // namespace isochore::gas
