#include "gas/helmholtz.h"
#include "gas/non_analytic.h"
#include <cmath>

namespace isochore::gas {
namespace {

double square(double x)
{
    return x * x;
}

} // namespace

Equation::Equation(FluidData const& data) : m_data(data), m_table(lay_out(data)) {}

void Equation::prepare(Isotherm& iso, double temperature_k) const
{
    iso.temperature_k = temperature_k;
    iso.tau = m_data.reducing_temperature_k / temperature_k;
    iso.pressure_scale_pa = m_data.reducing_density_mol_m3 * m_data.gas_constant_j_mol_k * temperature_k;
    fill_table(m_table, iso.tau, iso.coefficient.data());
}

DensityDerivatives Equation::evaluate(Isotherm const& isotherm, double delta) const
{
    return with_singular(isotherm, delta,
                         sum_table(m_table, isotherm.coefficient.data(), delta, Upto::second));
}

DensityDerivatives Equation::with_singular(Isotherm const& isotherm, double delta,
                                           LogDerivatives const& by_log) const
{
    DensityDerivatives sum{by_log.a, by_log.a1, by_log.a2 - by_log.a1};
    for (auto const& singular : m_data.non_analytic)
        add_non_analytic(singular, isotherm.tau, delta, sum);
    return sum;
}

double Equation::reduced_pressure(Isotherm const& isotherm, double delta) const
{
    auto const by_log = sum_table(m_table, isotherm.coefficient.data(), delta, Upto::first);
    return delta * (1.0 + with_singular(isotherm, delta, by_log).d);
}

PressureCurve Equation::pressure_curve(Isotherm const& isotherm, double delta) const
{
    auto const by_log = sum_table(m_table, isotherm.coefficient.data(), delta, Upto::fourth);
    auto const sum = with_singular(isotherm, delta, by_log);
    return {delta * (1.0 + sum.d), 1.0 + 2.0 * sum.d + sum.dd, by_log.a2 + by_log.a3, by_log.a4 - by_log.a2};
}

Virial Equation::virial(Isotherm const& isotherm) const
{
    Virial sum;
    for (auto const& cell : m_table.cells) {
        double const coefficient = isotherm.coefficient[static_cast<std::size_t>(cell.place)];
        sum.b += coefficient * cell.b;
        sum.c += coefficient * cell.c;
    }
    return sum;
}

CaloricDerivatives Equation::evaluate_caloric(double tau, double delta) const
{
    CaloricDerivatives sum;
    auto& at = sum.density;
    // A term is D(delta) T(tau): d1, d2 are delta D'/D and delta^2 D''/D, t1 and t2 the same in tau.
    auto const add = [&](double value, double d1, double d2, double t1, double t2) {
        at.a += value;
        at.d += value * d1;
        at.dd += value * d2;
        sum.t += value * t1;
        sum.tt += value * t2;
        sum.dt += value * d1 * t1;
    };
    for (auto const& p : m_data.power) {
        double const u = p.l == 0 ? 0.0 : p.g * std::pow(delta, p.l);
        double const first = p.d - p.l * u;
        double const second = first * (first - 1.0) - square(p.l) * u;
        add(p.n * std::pow(tau, p.t) * std::pow(delta, p.d) * std::exp(-u), first, second, p.t,
            p.t * (p.t - 1.0));
    }
    for (auto const& p : m_data.gaussian) {
        double const away_d = delta - p.epsilon, away_t = tau - p.gamma;
        double const d1 = p.d - 2.0 * p.eta * delta * away_d;
        double const d2 = d1 * d1 - p.d - 2.0 * p.eta * square(delta);
        double const t1 = p.t - 2.0 * p.beta * tau * away_t;
        double const t2 = t1 * t1 - p.t - 2.0 * p.beta * square(tau);
        add(p.n * std::pow(tau, p.t) * std::pow(delta, p.d) *
                std::exp(-p.eta * square(away_d) - p.beta * square(away_t)),
            d1, d2, t1, t2);
    }
    for (auto const& term : m_data.non_analytic)
        add_non_analytic(term, tau, delta, sum);
    return sum;
}

double Equation::ideal_tt(double tau) const
{
    double sum = -m_data.ideal_log_tau;
    for (auto const& p : m_data.ideal_power)
        sum += p.n * p.t * (p.t - 1.0) * std::pow(tau, p.t);
    for (auto const& p : m_data.ideal_einstein) {
        double const e = std::exp(p.theta * tau);
        sum += p.n * square(p.theta * tau) * p.c * p.d * e / square(p.c + p.d * e);
    }
    double const temperature = m_data.reducing_temperature_k / tau;
    for (auto const& p : m_data.ideal_cp)
        sum -= p.n * std::pow(temperature, p.t);
    return sum;
}

} // namespace isochore::gas
