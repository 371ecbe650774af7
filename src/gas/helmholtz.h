#pragma once
#include "gas/fluid_data.h"
#include <array>
#include <vector>

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
    static constexpr std::size_t most_terms = 40;
    double temperature_k = 0.0;
    double tau = 0.0;
    double pressure_scale_pa = 0.0;             ///< rho_reducing R T
    double b = 0.0, c = 0.0;                    ///< alpha_r = b delta + c delta^2 + …
    std::array<double, most_terms> coefficient; ///< of each collapsed term
};

/// A Helmholtz equation laid out for speed. Terms of the paper that share their density part are one term
/// here, and terms that share an exponential stand in one group, so the exponential is computed once.
class Equation {
public:
    explicit Equation(FluidData const& data);

    [[nodiscard]] FluidData const& data() const { return m_data; }

    [[nodiscard]] Isotherm isotherm(double temperature_k) const;
    [[nodiscard]] DensityDerivatives evaluate(Isotherm const& isotherm, double delta) const;
    /// Straight from the published terms, without the layout; slower.
    [[nodiscard]] CaloricDerivatives evaluate_caloric(double tau, double delta) const;
    /// tau^2 alpha0_tau_tau of the ideal gas.
    [[nodiscard]] double ideal_tt(double tau) const;

private:
    struct Group { // its terms times exp(-g delta^l), or times exp(-g (delta - epsilon)^2)
        int terms;
        int l; // 0: no exponential; -1: Gaussian
        double g, epsilon;
    };
    struct Term { // coefficient(T) delta^degree
        int degree;
        int sources;  // how many published terms are added up in it
        double d, dd; // degree, degree (degree - 1)
        double b, c;  // weight of the coefficient in the virial series
    };
    struct Source { // the temperature part of one published term, in the order of m_terms
        double n, t;
        int step; // exponent t in units of 1/8 where all are
        int bell; // index of the Gaussian in tau
    };
    struct Bell {
        double beta, gamma;
    };

    void lay_out();
    template <class Factor> void fill(Isotherm& isotherm, Factor factor) const;
    [[nodiscard]] static Term make_term(Group const& group, int degree);

    FluidData const& m_data;
    std::vector<Group> m_groups;
    std::vector<Term> m_terms; // in the order of the groups
    std::vector<Source> m_sources;
    std::vector<Bell> m_bells;
    int m_most_steps = 0;
    bool m_by_steps = true;
    int m_most_degree = 0;
};

} // namespace isochore::gas
