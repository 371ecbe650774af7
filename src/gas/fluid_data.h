#pragma once
#include <span>
#include <string_view>

namespace isochore::gas {

/// n tau^t delta^d exp(-g delta^l); without the exponential where l = 0.
struct PowerTerm {
    double n, t;
    int d, l;
    double g;
};

/// n tau^t delta^d exp(-eta (delta - epsilon)^2 - beta (tau - gamma)^2)
struct GaussianTerm {
    double n, t;
    int d;
    double eta, epsilon, beta, gamma;
};

/// The non-analytic terms of Span & Wagner 1996, eq. 6.1 (CO2).
struct NonAnalyticTerm {
    double n, a, b, beta, A, B, C, D;
};

struct PowerPair {
    double n, t;
};

/// n ln(c + d exp(theta tau)): vibration of the molecule in the ideal-gas part.
struct EinsteinTerm {
    double n, theta, c, d;
};

/// A fit of one quantity along the saturation line with x = 1 - T/Tr:
/// reducing * exp(sum n x^t), the sum multiplied by Tr/T where by_tau; or reducing * (1 + sum n x^t).
struct StartFit {
    std::span<PowerPair const> terms;
    double temperature_k, reducing_value;
    bool by_tau, linear;
};

/// One equation of state as published: Helmholtz energy alpha(delta, tau), reduced, as data.
struct FluidData {
    std::string_view name, citation;
    double molar_mass_kg_mol, gas_constant_j_mol_k;
    double reducing_temperature_k, reducing_density_mol_m3;
    double critical_temperature_k, critical_pressure_pa, critical_density_mol_m3;
    double least_temperature_k, greatest_temperature_k, greatest_pressure_pa; ///< where the equation is valid
    double least_vapour_pressure_pa;                                          ///< at the triple point
    bool pure;                        ///< false: dry air, whose dew and bubble lines differ
    double u_density_gas;             ///< relative standard uncertainty of the equation in the gas
    double u_density_near_saturation; ///< the same within a tenth of the dew line
    std::span<PowerTerm const> power;
    std::span<GaussianTerm const> gaussian;
    std::span<NonAnalyticTerm const> non_analytic;
    double ideal_log_tau;
    std::span<PowerPair const> ideal_power;
    std::span<EinsteinTerm const> ideal_einstein;
    std::span<PowerPair const> ideal_cp;
    StartFit start_pressure, start_liquid, start_vapour;
};

[[nodiscard]] FluidData const& sf6_data();
[[nodiscard]] FluidData const& n2_data();
[[nodiscard]] FluidData const& co2_data();
[[nodiscard]] FluidData const& cf4_data();
[[nodiscard]] FluidData const& air_data();

} // namespace isochore::gas
