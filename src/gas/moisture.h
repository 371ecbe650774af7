#pragma once
#include "quantity/result.h"

namespace isochore::gas {

inline constexpr double water_triple_k = 273.16;
inline constexpr double water_triple_pa = 611.657;

/// Vapour pressure over ice in Pa, 50 K to 273.16 K.
/// Source  IAPWS R14-08(2011), eq. 6. Errors: out_of_range.
[[nodiscard]] Result<double> ice_vapour_pressure_pa(double temperature_k);

/// Vapour pressure over water in Pa, 273.15 K to 647.096 K.
/// Source  IAPWS R7-97(2012), region 4, eq. 30. Errors: out_of_range.
[[nodiscard]] Result<double> water_vapour_pressure_pa(double temperature_k);

/// Temperature at which water vapour of this partial pressure condenses: as ice up to 611.657 Pa, above that
/// as water (IAPWS R7-97 region 4, eq. 31). Errors: out_of_range.
[[nodiscard]] Result<double> condensation_temperature_k(double vapour_pressure_pa);

/// Vapour pressure at a frost or dew point: over ice below 273.16 K, over water from there.
[[nodiscard]] Result<double> vapour_pressure_at_point_pa(double point_k);

} // namespace isochore::gas
