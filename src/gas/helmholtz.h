#pragma once
#include "gas/fluid_data.h"
#include "gas/term_table.h"
#include <array>

namespace isochore::gas {

/// Residual Helmholtz energy and its density derivatives, each times the power of delta that keeps it
/// finite at zero density: a = alpha_r, d = delta a_delta, dd = delta^2 a_delta_delta.
struct DensityDerivatives {
    double a = 0.0, d = 0.0, dd = 0.0;
};

/// The further derivatives that caloric quantities need: tt = tau^2 a_tau_tau, dt = delta tau a_delta_tau.
struct CaloricDerivatives {
    DensityDerivatives density;
    double t = 0.0, tt = 0.0, dt = 0.0;
};

/// Everything of an equation that depends on temperature alone. Computing it costs more than using it, so
/// whoever evaluates many densities at one temperature keeps it.
struct Isotherm {
    static constexpr std::size_t most_places = 128;
    double temperature_k;
    double tau;
    double pressure_scale_pa; ///< rho_reducing R T
    alignas(
        32) std::array<double, most_places> coefficient; ///< of the equation's TermTable; the rest is not set
};

/// Start of the power series alpha_r = b delta + c delta^2 + ...
struct Virial {
    double b = 0.0, c = 0.0;
};

/// Pressure over rho_reducing R T, f = delta (1 + delta a_delta), and its derivatives: slope = f',
/// bend = delta f'', twist = delta^2 f'''.
struct PressureCurve {
    double f = 0.0, slope = 0.0, bend = 0.0, twist = 0.0;
};

/// A Helmholtz equation, its terms laid out for speed in a TermTable.
class Equation {
public:
    explicit Equation(FluidData const& data);

    [[nodiscard]] FluidData const& data() const { return m_data; }

    [[nodiscard]] Isotherm isotherm(double temperature_k) const
    {
        Isotherm isotherm;
        prepare(isotherm, temperature_k);
        return isotherm;
    }
    [[nodiscard]] DensityDerivatives evaluate(Isotherm const& isotherm, double delta) const;
    /// f alone: half the work.
    [[nodiscard]] double reduced_pressure(Isotherm const& isotherm, double delta) const;
    /// For a root search. Bend and twist leave out the non-analytic terms of CO2, which matter near its
    /// critical point only.
    [[nodiscard]] PressureCurve pressure_curve(Isotherm const& isotherm, double delta) const;
    [[nodiscard]] Virial virial(Isotherm const& isotherm) const;
    /// Straight from the published terms, without the layout; slower.
    [[nodiscard]] CaloricDerivatives evaluate_caloric(double tau, double delta) const;
    /// tau^2 alpha0_tau_tau of the ideal gas.
    [[nodiscard]] double ideal_tt(double tau) const;

    [[nodiscard]] TermTable const& table() const { return m_table; }

private:
    void prepare(Isotherm& isotherm, double temperature_k) const;
    [[nodiscard]] DensityDerivatives with_singular(Isotherm const& isotherm, double delta,
                                                   LogDerivatives const& by_log) const;

    FluidData const& m_data;
    TermTable m_table;
};

} // namespace isochore::gas
