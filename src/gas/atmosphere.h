#pragma once
#include "quantity/result.h"

namespace isochore::gas {

inline constexpr double standard_pressure_pa = 101325.0; ///< ISO 2533 sea level; also 1 atm

/// Pressure of the standard atmosphere in Pa at a geopotential altitude in m.
/// Formula  p = 101325 (T/288.15)^5.25588, T = 288.15 - 0.0065 h (troposphere)
/// Errors   out_of_range outside -500 m to 11 000 m.
/// Source   ISO 2533:1975, table and clause 2.
[[nodiscard]] Result<double> standard_atmosphere_pressure(double altitude_m);

} // namespace isochore::gas
