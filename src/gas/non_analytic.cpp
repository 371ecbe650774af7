#include "gas/non_analytic.h"
#include <cmath>

namespace isochore::gas {

// Names as in the paper: Delta = theta^2 + B [(delta-1)^2]^a,
// theta = (1-tau) + A [(delta-1)^2]^(1/(2 beta)), psi = exp(-C (delta-1)^2 - D (tau-1)^2).
void add_non_analytic(NonAnalyticTerm const& p, double tau, double delta, CaloricDerivatives& sum)
{
    double const x = delta - 1.0, y = tau - 1.0, xx = x * x;
    if (xx == 0.0)
        return; // the derivatives have no limit on the critical isochore itself
    double const half = 1.0 / (2.0 * p.beta);
    double const r = std::pow(xx, half), s = std::pow(xx, p.a);
    double const theta = -y + p.A * r;
    double const big = theta * theta + p.B * s;
    double const psi = std::exp(-p.C * xx - p.D * y * y);

    double const slope = p.A * theta * (2.0 / p.beta) * r / xx + 2.0 * p.B * p.a * s / xx;
    double const big_d = x * slope;
    double const big_dd = slope + xx * (4.0 * p.B * p.a * (p.a - 1.0) * s / (xx * xx) +
                                        2.0 * p.A * p.A / (p.beta * p.beta) * (r / xx) * (r / xx) +
                                        p.A * theta * (4.0 / p.beta) * (half - 1.0) * r / (xx * xx));

    double const f = std::pow(big, p.b), f1 = p.b * f / big, f2 = f1 * (p.b - 1.0) / big;
    double const f_d = f1 * big_d;
    double const f_dd = f1 * big_dd + f2 * big_d * big_d;
    double const f_t = -2.0 * theta * f1;
    double const f_tt = 2.0 * f1 + 4.0 * theta * theta * f2;
    double const f_dt = -p.A * (2.0 / p.beta) * f1 * x * r / xx - 2.0 * theta * f2 * big_d;

    double const psi_d = -2.0 * p.C * x * psi;
    double const psi_dd = (2.0 * p.C * xx - 1.0) * 2.0 * p.C * psi;
    double const psi_t = -2.0 * p.D * y * psi;
    double const psi_tt = (2.0 * p.D * y * y - 1.0) * 2.0 * p.D * psi;
    double const psi_dt = 4.0 * p.C * p.D * x * y * psi;

    double const lean = psi + delta * psi_d;
    sum.density.a += p.n * f * delta * psi;
    sum.density.d += delta * p.n * (f * lean + f_d * delta * psi);
    sum.density.dd +=
        delta * delta * p.n * (f * (2.0 * psi_d + delta * psi_dd) + 2.0 * f_d * lean + f_dd * delta * psi);
    sum.t += tau * p.n * delta * (f_t * psi + f * psi_t);
    sum.tt += tau * tau * p.n * delta * (f_tt * psi + 2.0 * f_t * psi_t + f * psi_tt);
    sum.dt += delta * tau * p.n *
              (f * (psi_t + delta * psi_dt) + delta * f_d * psi_t + f_t * lean + f_dt * delta * psi);
}

void add_non_analytic(NonAnalyticTerm const& term, double tau, double delta, DensityDerivatives& sum)
{
    CaloricDerivatives all;
    add_non_analytic(term, tau, delta, all);
    sum.a += all.density.a;
    sum.d += all.density.d;
    sum.dd += all.density.dd;
}

} // namespace isochore::gas
