#pragma once
#include "calc/answer.h"
#include "calc/series.h"
#include "gas/species.h"
#include <optional>

namespace isochore::calc {

/// A hold whose gas and thermometer did not go together: its slope is no leak figure, neither a pass nor a
/// fail.
struct Disturbance {
    std::string name;   ///< of its check: "temperature_step", "temperature_drift", "rising"
    std::string text;   ///< what was seen
    double lag_k = 0.0; ///< how far gas and thermometer must have been apart for it
};

/// How gas behind a pipe wall follows a thermometer on it.
struct Settling {
    gas::Species species = gas::Species::sf6;
    double time_constant_s = 0.0;
    double kelvin_density = 0.0; ///< kg/m3 that one kelvin feigns at constant pressure
};
[[nodiscard]] Settling settling(gas::Species species, double temperature_k, double pressure_pa,
                                double time_constant_s);

/// A jump of temperature between two readings, far larger than the others: sun on the pipe, a door opened.
[[nodiscard]] std::optional<Disturbance> temperature_step(std::vector<TimedReading> const& series);

/// A density that rises by more than its uncertainty over the hold: gas does not leak in.
[[nodiscard]] Disturbance rising_density(double rise_kg_m3, double expanded_kg_m3, double hold_s,
                                         Settling const& settling);

/// The temperature (K) of gas that follows the thermometer with the time constant, at every reading; it is
/// the thermometer's own at the first.
[[nodiscard]] std::vector<double> followed_temperatures(std::vector<TimedReading> const& series,
                                                        double time_constant_s);

/// The check of a disturbance: undecided, with the agreement needed and the time it takes to come about.
/// `feigned_kg_m3`: the change of density over the hold that would be taken for a leak at the limit.
[[nodiscard]] Check disturbed_check(Disturbance const& seen, double feigned_kg_m3, Settling const& settling);

} // namespace isochore::calc
