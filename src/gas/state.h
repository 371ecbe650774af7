#pragma once
#include "gas/species.h"
#include <optional>

namespace isochore::gas {

/// One gas at one temperature. Keeps what depends on temperature alone, so that many pressures or
/// densities at that temperature are cheap. Made by `at`, used for the gas phase only.
class GasAt {
    struct Key { // only `at` and its like have one: the temperature is checked first
        explicit Key() = default;
    };

public:
    GasAt(Key, Species species, Equation const& equation, double temperature_k);

    /// Errors: out_of_range where the equation is not valid (below the triple point, above its limit).
    [[nodiscard]] static Result<GasAt> at(Species species, double temperature_k);

    /// Density in kg/m3 at an absolute pressure in Pa, solved on the equation itself to the last digits.
    /// Errors: liquid (pressure above the dew line), out_of_range (not positive, or above the equation's
    /// limit). `near_kg_m3` is a density already known to be close; 0 where none is.
    [[nodiscard]] Result<double> density_kg_m3(double pressure_pa, double near_kg_m3 = 0.0) const;

    /// Absolute pressure in Pa at a density in kg/m3.
    /// Errors: two_phase, liquid, out_of_range.
    [[nodiscard]] Result<double> pressure_pa(double density_kg_m3) const;

    /// d p / d rho in Pa/(kg/m3) at constant temperature, of the equation, whatever the phase.
    [[nodiscard]] double slope(double density_kg_m3) const;

    [[nodiscard]] double temperature_k() const { return m_isotherm.temperature_k; }
    [[nodiscard]] Species species() const { return m_species; }

private:
    friend Result<double> density_kg_m3(Species species, double temperature_k, double pressure_pa);
    friend Result<double> pressure_pa(Species species, double temperature_k, double density_kg_m3);
    [[nodiscard]] static std::optional<Error> refusal(FluidData const& data, double temperature_k);
    [[nodiscard]] double first_guess(double reduced_pressure) const;
    [[nodiscard]] double solve(double reduced_pressure, double start) const;
    [[nodiscard]] double solve_slowly(double reduced_pressure) const;

    Species m_species;
    Equation const* m_equation;
    Isotherm m_isotherm;
    double m_density_scale = 0.0; // kg/m3 of delta = 1
    double m_surely_gas_pa = 0.0; // below this no dew line needs to be asked
    double m_surely_gas_delta = 0.0;
};

/// Density in kg/m3 from temperature in K and absolute pressure in Pa, gas phase.
/// Source: the reference equation of the gas (fluid_*.cpp names each paper).
/// Errors: liquid, out_of_range.
[[nodiscard]] Result<double> density_kg_m3(Species species, double temperature_k, double pressure_pa);

/// Absolute pressure in Pa from temperature in K and density in kg/m3, gas phase.
/// Errors: two_phase, liquid, out_of_range.
[[nodiscard]] Result<double> pressure_pa(Species species, double temperature_k, double density_kg_m3);

/// Z = p M / (rho R T) with the equation's own gas constant.
[[nodiscard]] double compressibility(Species species, double temperature_k, double pressure_pa,
                                     double density_kg_m3);

struct Caloric {
    double cv_j_kg_k = 0.0, cp_j_kg_k = 0.0, sound_speed_m_s = 0.0;
};

/// Heat capacities and speed of sound at a temperature and density, of the equation, whatever the phase.
[[nodiscard]] Caloric caloric(Species species, double temperature_k, double density_kg_m3);

/// Relative standard uncertainty of the equation's density at a state: what its authors claim, read as a
/// 95 % figure and halved; larger near the dew line.
[[nodiscard]] double equation_relative_u(Species species, double temperature_k, double density_kg_m3);

} // namespace isochore::gas
