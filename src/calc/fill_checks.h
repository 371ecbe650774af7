#pragma once
#include "calc/answer.h"
#include "calc/filling.h"
#include "uncertainty/budget.h"
#include "uncertainty/decision.h"

namespace isochore::calc {

/// What a fill may be held against; all optional, all from the profile or the crew.
struct FillLimits {
    std::optional<Filling> warn, lockout;
    std::optional<double> max_pressure_pa, lowest_ambient_k, air_temperature_k, equalisation_time_s;
    std::optional<double> temperature_agreement_k, cylinder_contents_kg;
    std::optional<double>
        fill_tolerance; ///< how far over the filling density is still right, a fraction of it
    uncertainty::Rule rule = uncertainty::Rule::guarded;
};

/// Inputs warn, lockout, max_pressure, lowest_ambient, air_temperature, equalisation_time,
/// temperature_agreement, fill_tolerance, cylinder_contents, rule.
[[nodiscard]] FillLimits read_fill_limits(Inputs& in, gas::Species species);

/// The state the checks look at.
struct FillState {
    gas::Species species;
    double temperature_k, pressure_pa, target_density_kg_m3, target_pressure_pa, barometer_pa;
    uncertainty::Budget density_now, mass;
};

/// Over-fill, liquefaction, warn and lockout, temperature equalisation, cylinder.
void add_fill_checks(Answer& answer, FillState const& state, FillLimits const& limits);

} // namespace isochore::calc
