#pragma once
#include "gas/species.h"

namespace isochore::gas {

/// Vapour and liquid in balance.
struct Saturation {
    double temperature_k = 0.0, pressure_pa = 0.0;
    double liquid_kg_m3 = 0.0, vapour_kg_m3 = 0.0;
};

/// Saturation at a temperature: equal pressure and equal Gibbs energy of both phases on the equation itself.
/// Method  R. Akasaka, J. Therm. Sci. Technol. 3(3), 442-451 (2008), with damped steps.
/// Errors  out_of_range below the triple point or from the critical point up, or for dry air, which has no
///         single saturation line.
[[nodiscard]] Result<Saturation> saturation(Species species, double temperature_k);

/// Where an isochore meets the saturation line: the dew point of a vapour density, or the boiling point of
/// a liquid density.
/// Errors  out_of_range for a vapour thinner than at the triple point (it turns to ice first) or a liquid
///         denser than there.
[[nodiscard]] Result<Saturation> saturation_at_density(Species species, double density_kg_m3);

/// Approximate saturation pressure in Pa: the published start value, good to 0.01 % (dry air's dew line:
/// 1 %). NaN outside the saturation line.
[[nodiscard]] double rough_saturation_pressure_pa(Species species, double temperature_k);

} // namespace isochore::gas
