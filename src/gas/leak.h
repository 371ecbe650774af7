#pragma once
#include "gas/species.h"

namespace isochore::gas {

inline constexpr double year_s = 365.25 * 86400.0;
inline constexpr double molar_gas_constant = 8.314462618; ///< J/(mol K), SI Brochure 9th ed.

/// Mass flow in kg/s of a leak given as throughput in Pa m3/s at a stated temperature: q M/(R T).
[[nodiscard]] double mass_flow_kg_s(Species species, double throughput_pa_m3_s, double temperature_k);
[[nodiscard]] double throughput_pa_m3_s(Species species, double mass_flow_kg_s, double temperature_k);

/// Leak from a rise of concentration in an enclosure of free volume V: dx V p M/(R T)/dt, in kg/s.
/// The enclosure is taken as tight and mixed; what it loses makes the leak look smaller.
[[nodiscard]] double accumulation_leak_kg_s(Species species, double rise_fraction, double free_volume_m3,
                                            double pressure_pa, double temperature_k, double duration_s);

/// Smallest leak at one spot that would have blown a bubble of this diameter within the time watched:
/// p (pi/6) d^3/t as throughput. "No bubble" shows only that the leak at that spot is below it.
[[nodiscard]] double bubble_throughput_pa_m3_s(double diameter_m, double watched_s, double pressure_pa);

} // namespace isochore::gas
