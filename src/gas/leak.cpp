#include "gas/leak.h"
#include <numbers>

namespace isochore::gas {

double mass_flow_kg_s(Species species, double throughput, double temperature_k)
{
    return throughput * molar_mass_kg_mol(species) / (molar_gas_constant * temperature_k);
}

double throughput_pa_m3_s(Species species, double mass_flow, double temperature_k)
{
    return mass_flow * molar_gas_constant * temperature_k / molar_mass_kg_mol(species);
}

double accumulation_leak_kg_s(Species species, double rise_fraction, double free_volume_m3,
                              double pressure_pa, double temperature_k, double duration_s)
{
    return mass_flow_kg_s(species, rise_fraction * free_volume_m3 * pressure_pa / duration_s, temperature_k);
}

double bubble_throughput_pa_m3_s(double diameter_m, double watched_s, double pressure_pa)
{
    return pressure_pa * std::numbers::pi / 6.0 * diameter_m * diameter_m * diameter_m / watched_s;
}

} // namespace isochore::gas
