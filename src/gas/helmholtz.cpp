#include "gas/helmholtz.h"
#include "gas/non_analytic.h"
#include <algorithm>
#include <cmath>

namespace isochore::gas {
namespace {

constexpr int gaussian_kind = -1;
constexpr int most_steps_allowed = 256;
constexpr int most_degree_allowed = 16;
constexpr int most_bells = 16;
constexpr int most_sources = 48;

double square(double x)
{
    return x * x;
}

} // namespace

Equation::Equation(FluidData const& data) : m_data(data)
{
    lay_out();
}

void Equation::lay_out()
{
    struct Piece { // density part of a published term
        int group, degree;
        double n, t;
        int bell;
    };
    std::vector<Piece> pieces;
    std::vector<std::pair<int, Source>> sources;
    auto const group_of = [&](int l, double g, double epsilon) {
        for (std::size_t i = 0; i < m_groups.size(); ++i)
            if (m_groups[i].l == l && m_groups[i].g == g && m_groups[i].epsilon == epsilon)
                return static_cast<int>(i);
        m_groups.push_back({0, l, g, epsilon});
        return static_cast<int>(m_groups.size()) - 1;
    };
    m_bells.push_back({0.0, 0.0}); // the first is 1 at every temperature, for terms without a Gaussian
    auto const bell_of = [&](double beta, double gamma) {
        for (std::size_t i = 0; i < m_bells.size(); ++i)
            if (m_bells[i].beta == beta && m_bells[i].gamma == gamma)
                return static_cast<int>(i);
        m_bells.push_back({beta, gamma});
        return static_cast<int>(m_bells.size()) - 1;
    };
    for (auto const& p : m_data.power)
        pieces.push_back({group_of(p.l, p.l == 0 ? 0.0 : p.g, 0.0), p.d, p.n, p.t, 0});
    for (auto const& p : m_data.gaussian)
        pieces.push_back(
            {group_of(gaussian_kind, p.eta, p.epsilon), p.d, p.n, p.t, bell_of(p.beta, p.gamma)});

    for (std::size_t g = 0; g < m_groups.size(); ++g) {
        Group& group = m_groups[g];
        std::size_t const first = m_terms.size();
        for (auto const& piece : pieces) {
            if (piece.group != static_cast<int>(g))
                continue;
            auto const found =
                std::find_if(m_terms.begin() + static_cast<std::ptrdiff_t>(first), m_terms.end(),
                             [&](Term const& term) { return term.degree == piece.degree; });
            int const target = static_cast<int>(found - m_terms.begin());
            if (found == m_terms.end())
                m_terms.push_back(make_term(group, piece.degree));
            double const steps = piece.t * 8.0;
            m_by_steps =
                m_by_steps && steps == std::floor(steps) && steps >= 0.0 && steps < most_steps_allowed;
            sources.push_back({target, {piece.n, piece.t, static_cast<int>(steps), piece.bell}});
            m_most_steps = std::max(m_most_steps, static_cast<int>(steps));
            m_most_degree = std::max(m_most_degree, piece.degree);
        }
        group.terms = static_cast<int>(m_terms.size() - first);
    }
    for (std::size_t i = 0; i < m_terms.size(); ++i)
        for (auto const& [target, source] : sources)
            if (target == static_cast<int>(i)) {
                m_sources.push_back(source);
                ++m_terms[i].sources;
            }
}

Equation::Term Equation::make_term(Group const& group, int degree)
{
    // exp(...) = e0 + e1 delta + e2 delta^2 + … gives the term's share of the second and third virial.
    double e0 = 1.0, e1 = 0.0, e2 = 0.0;
    if (group.l == gaussian_kind) {
        e0 = std::exp(-group.g * square(group.epsilon));
        e1 = 2.0 * group.g * group.epsilon * e0;
        e2 = (2.0 * square(group.g * group.epsilon) - group.g) * e0;
    } else if (group.l == 1) {
        e1 = -group.g;
        e2 = 0.5 * square(group.g);
    } else if (group.l == 2) {
        e2 = -group.g;
    }
    double const d = degree;
    return {degree,
            0,
            d,
            d * (d - 1.0),
            degree == 0   ? e1
            : degree == 1 ? e0
                          : 0.0,
            degree == 0   ? e2
            : degree == 1 ? e1
            : degree == 2 ? e0
                          : 0.0};
}

template <class Factor> void Equation::fill(Isotherm& iso, Factor factor) const
{
    // All parts first, then the sums: the parts do not wait for one another.
    double parts[most_sources];
    double* part = parts;
    for (Source const& source : m_sources)
        *part++ = source.n * factor(source);
    part = parts;
    double* coefficient = iso.coefficient.data();
    double b = 0.0, c = 0.0;
    for (Term const& term : m_terms) {
        double sum = *part++;
        for (int left = term.sources - 1; left > 0; --left)
            sum += *part++;
        *coefficient++ = sum;
        b += sum * term.b;
        c += sum * term.c;
    }
    iso.b = b;
    iso.c = c;
}

Isotherm Equation::isotherm(double temperature_k) const
{
    Isotherm iso;
    iso.temperature_k = temperature_k;
    iso.tau = m_data.reducing_temperature_k / temperature_k;
    iso.pressure_scale_pa = m_data.reducing_density_mol_m3 * m_data.gas_constant_j_mol_k * temperature_k;

    double bells[most_bells];
    bells[0] = 1.0;
    for (std::size_t i = 1; i < m_bells.size(); ++i)
        bells[i] = std::exp(-m_bells[i].beta * square(iso.tau - m_bells[i].gamma));

    if (m_by_steps) {
        // Every published exponent is a whole number of eighths: three square roots and a table of products.
        double const half = std::sqrt(iso.tau), quarter = std::sqrt(half), eighth = std::sqrt(quarter);
        double const fraction[8] = {1.0,  eighth,        quarter,        eighth * quarter,
                                    half, half * eighth, half * quarter, half * (eighth * quarter)};
        double powers[most_steps_allowed];
        double whole = 1.0;
        for (int i = 0; i <= m_most_steps; i += 8, whole *= iso.tau)
            for (int j = 0; j < 8; ++j)
                powers[i + j] = whole * fraction[j];
        fill(iso, [&](Source const& s) { return powers[s.step] * bells[s.bell]; });
    } else {
        double const log_tau = std::log(iso.tau);
        fill(iso, [&](Source const& s) { return std::exp(s.t * log_tau) * bells[s.bell]; });
    }
    return iso;
}

DensityDerivatives Equation::evaluate(Isotherm const& isotherm, double delta) const
{
    double powers[most_degree_allowed + 4];
    powers[0] = 1.0;
    powers[1] = delta;
    powers[2] = delta * delta;
    powers[3] = powers[2] * delta;
    double const delta4 = powers[2] * powers[2];
    for (int i = 4; i <= m_most_degree; i += 4)
        for (int j = 0; j < 4; ++j)
            powers[i + j] = powers[i + j - 4] * delta4;

    DensityDerivatives sum;
    Term const* term = m_terms.data();
    double const* coefficient = isotherm.coefficient.data();
    for (auto const& group : m_groups) {
        double s0 = 0.0, s1 = 0.0, s2 = 0.0;
        for (Term const* const end = term + group.terms; term != end; ++term, ++coefficient) {
            double const value = *coefficient * powers[term->degree];
            s0 += value;
            s1 += term->d * value;
            s2 += term->dd * value;
        }
        if (group.l == 0) {
            sum.a += s0;
            sum.d += s1;
            sum.dd += s2;
            continue;
        }
        // first = delta e'/e, second = delta^2 e''/e
        double e, first, second;
        if (group.l == gaussian_kind) {
            double const away = delta - group.epsilon;
            e = std::exp(-group.g * away * away);
            first = -2.0 * group.g * delta * away;
            second = first * first - 2.0 * group.g * powers[2];
        } else {
            double const u = group.g * powers[group.l];
            double const l = group.l;
            e = std::exp(-u);
            first = -l * u;
            second = first * first + (l - 1.0) * first;
        }
        sum.a += e * s0;
        sum.d += e * (s1 + s0 * first);
        sum.dd += e * (s2 + 2.0 * s1 * first + s0 * second);
    }
    for (auto const& singular : m_data.non_analytic)
        add_non_analytic(singular, isotherm.tau, delta, sum);
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
