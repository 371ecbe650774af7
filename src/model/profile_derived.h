#pragma once
#include "gas/species.h"
#include "model/profile.h"
#include "quantity/result.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::model {

/// A value that follows from a profile's own ones. Shown, never stored.
struct DerivedValue {
    std::string path;  ///< "gas.nominal_density"
    std::string label; ///< "Filling density"
    double si = 0.0;
    Dimension dimension = Dimension::fraction;
    std::string unit;                   ///< the unit to show it in, by its name in quantity/unit.h
    std::string from;                   ///< the working in words: "SF6 at 20 °C and 0.675 MPa abs"
    [[nodiscard]] double shown() const; ///< `si` in `unit`
};

/// All that could be derived, and why the rest could not.
struct DerivedProfile {
    std::vector<DerivedValue> values;
    std::vector<Error> problems; ///< `where` is the path of the profile value at fault
    [[nodiscard]] DerivedValue const* find(std::string_view path) const;
    [[nodiscard]] double si(std::string_view path) const; ///< NaN where it is not there
};

/// Densities, both pressures and the sensor current at nominal, warn and lockout; compartment volume;
/// temperature at which the filling begins to liquefy; years from filling to alarm at the leak limit;
/// times of the rated cycles and pole spreads; step ratio of the CT.
/// Gauge pressures are taken against 101.325 kPa, the reference of a nameplate (IEC 62271-1: 20 degC and
/// 101.3 kPa).
[[nodiscard]] DerivedProfile derive(Profile const& profile);

/// A nameplate pressure as absolute Pa: gauge values against 101.325 kPa. Errors: invalid_input (abs or g not
/// said).
[[nodiscard]] Result<double> nameplate_pressure_pa(Amount const& pressure, std::string_view where);

/// A profile pressure as absolute Pa at 20 degC. Errors: missing_input, invalid_input (reference not said).
[[nodiscard]] Result<double> nameplate_pressure_pa(Profile const& profile, std::string_view path);

} // namespace isochore::model
