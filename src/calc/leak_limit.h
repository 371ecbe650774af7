#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"
#include "gas/species.h"
#include "uncertainty/decision.h"
#include <optional>

namespace isochore::calc {

/// A leak limit in kg/s and how it was given.
struct LeakLimit {
    double kg_s = 0.0;
    std::string typed;
};

/// "limit" as a mass flow ("50 g/yr"), a fraction of the gas a year ("0.5 %/yr" of `gas_mass_kg`), or a
/// throughput at 20 degC ("1e-4 mbar l/s"). Absent: none.
[[nodiscard]] std::optional<LeakLimit> read_leak_limit(Inputs& in, std::string_view name,
                                                       gas::Species species, double gas_mass_kg);

/// A leak rate of the same three forms, required.
[[nodiscard]] double read_leak_rate(Inputs& in, std::string_view name, gas::Species species,
                                    double gas_mass_kg);

/// leak_rate, leak_throughput, annual_loss and annual_fraction with their uncertainties.
void add_leak_figures(Answer& answer, gas::Species species, double leak_kg_s, double u_kg_s,
                      double expanded_kg_s, double gas_mass_kg);

[[nodiscard]] std::string mass_a_year(double kg_s);

} // namespace isochore::calc
