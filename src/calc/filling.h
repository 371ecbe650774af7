#pragma once
#include "calc/inputs.h"
#include "gas/species.h"
#include <optional>

namespace isochore::calc {

inline constexpr double filling_reference_k = 293.15; ///< 20 degC, to which filling data of a breaker refer

/// A filling value of a breaker: what is kept constant is the density.
struct Filling {
    double density_kg_m3 = 1.0;
    bool from_pressure = false; ///< worked out by the equation of state from a pressure at 20 degC
};

/// "nominal_density", or "nominal_pressure" at 20 degC. A gauge value there is against
/// "nominal_reference" (absolute; 101.325 kPa where not given), never against today's barometer.
[[nodiscard]] Filling read_nominal(Inputs& in, gas::Species species);

/// A filling value of any name, as a density or as a pressure at 20 degC.
[[nodiscard]] std::optional<Filling> read_filling(Inputs& in, std::string_view name, gas::Species species);

/// "volume", or "nameplate_mass" divided by the nominal density.
[[nodiscard]] double read_volume(Inputs& in, double nominal_density_kg_m3);

/// "added_volume" plus all "tubes" [{bore, length}]; 0 where neither is given.
[[nodiscard]] double read_added_volume(Inputs& in);

/// A pressure as it was read: absolute Pa, whether it was a gauge reading, and the barometer used.
struct Reading {
    double absolute_pa = 0.0, barometer_pa = 0.0;
    bool gauge = false;
};
[[nodiscard]] Reading read_pressure(Inputs& in, std::string_view name);

} // namespace isochore::calc
