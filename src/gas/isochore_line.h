#pragma once
#include "gas/species.h"
#include <vector>

namespace isochore::gas {

struct LinePoint {
    double temperature_k = 0.0, pressure_pa = 0.0;
};

/// Points of the isochore p(T) of a density from one temperature to another, both included, at `points`
/// even steps. Where the gas would liquefy the line ends on the dew line: its first point is then the dew
/// point itself. Empty where no part of it is gas or the range is no range.
[[nodiscard]] std::vector<LinePoint> isochore_line(Species species, double density_kg_m3, double from_k,
                                                   double to_k, int points = 33);

/// Points of the dew line p_sat(T) between two temperatures, clipped to where it exists (triple to critical
/// point). Empty for dry air.
[[nodiscard]] std::vector<LinePoint> dew_line(Species species, double from_k, double to_k, int points = 65);

} // namespace isochore::gas
