#include "uncertainty/approach_fit.h"
#include "uncertainty/student.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <vector>

namespace isochore::uncertainty {
namespace {

struct Linear {
    double plateau = 0.0, rise = 0.0, cost = std::numeric_limits<double>::infinity();
};

/// Plateau and rise for one time constant by weighted least squares.
Linear solve(std::span<double const> t, std::span<double const> y, std::vector<double> const& w, double tau)
{
    double sw = 0.0, se = 0.0, see = 0.0, sy = 0.0, sye = 0.0;
    for (std::size_t i = 0; i < t.size(); ++i) {
        double const e = std::exp(-(t[i] - t[0]) / tau);
        sw += w[i];
        se += w[i] * e;
        see += w[i] * e * e;
        sy += w[i] * y[i];
        sye += w[i] * y[i] * e;
    }
    double const det = sw * see - se * se;
    Linear fit;
    if (!(det > 1e-14 * sw * see))
        return fit;
    fit.plateau = (sy * see - se * sye) / det;
    fit.rise = -(sw * sye - se * sy) / det;
    fit.cost = 0.0;
    for (std::size_t i = 0; i < t.size(); ++i) {
        double const miss = y[i] - fit.plateau + fit.rise * std::exp(-(t[i] - t[0]) / tau);
        fit.cost += w[i] * miss * miss;
    }
    return fit;
}

double median(std::vector<double> values)
{
    std::size_t const middle = values.size() / 2;
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(middle), values.end());
    double const upper = values[middle];
    if (values.size() % 2 == 1)
        return upper;
    return 0.5 *
           (upper + *std::max_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(middle)));
}

/// The time constant of least cost: a coarse scan in equal ratios, then golden section around the best.
double best_time_constant(std::span<double const> t, std::span<double const> y, std::vector<double> const& w)
{
    double const length = t.back() - t.front();
    double const shortest = 0.2 * length / static_cast<double>(t.size()), longest = 5.0 * length;
    constexpr int steps = 48;
    double const ratio = std::pow(longest / shortest, 1.0 / steps);
    double best = shortest, least = std::numeric_limits<double>::infinity();
    for (int i = 0; i <= steps; ++i) {
        double const tau = shortest * std::pow(ratio, i);
        double const cost = solve(t, y, w, tau).cost;
        if (cost < least) {
            least = cost;
            best = tau;
        }
    }
    constexpr double golden = 0.6180339887498949;
    double low = std::log(best / ratio), high = std::log(best * ratio);
    double x1 = high - golden * (high - low), x2 = low + golden * (high - low);
    double f1 = solve(t, y, w, std::exp(x1)).cost, f2 = solve(t, y, w, std::exp(x2)).cost;
    while (high - low > 1e-7) {
        if (f1 < f2) {
            high = x2;
            x2 = x1;
            f2 = f1;
            x1 = high - golden * (high - low);
            f1 = solve(t, y, w, std::exp(x1)).cost;
        } else {
            low = x1;
            x1 = x2;
            f1 = f2;
            x2 = low + golden * (high - low);
            f2 = solve(t, y, w, std::exp(x2)).cost;
        }
    }
    return std::exp(0.5 * (low + high));
}

bool invert(double (&m)[3][3], double (&out)[3][3])
{
    auto const minor = [&](int r, int c) {
        int const a = (r + 1) % 3, b = (r + 2) % 3, d = (c + 1) % 3, e = (c + 2) % 3;
        return m[a][d] * m[b][e] - m[a][e] * m[b][d];
    };
    double const det = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
    if (!(std::fabs(det) > 1e-14 * m[0][0] * m[1][1] * m[2][2]) || !(det > 0.0))
        return false;
    for (int r = 0; r < 3; ++r)
        for (int c = 0; c < 3; ++c)
            out[c][r] = minor(r, c) / det;
    return true;
}

/// d y / d (plateau, rise, ln tau) at a time.
void gradient(ApproachFit const& fit, double t, double (&g)[3])
{
    double const x = (t - fit.t_first) / fit.time_constant, e = std::exp(-x);
    g[0] = 1.0;
    g[1] = -e;
    g[2] = -fit.rise * x * e;
}

double spread(ApproachFit const& fit, double const (&g)[3])
{
    double variance = 0.0;
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j)
            variance += g[i] * fit.covariance[i][j] * g[j];
    return std::sqrt(std::fmax(variance, 0.0));
}

/// Weights of Tukey's biweight about the curve; the scatter of the middle half of the readings sets the
/// scale.
double reweigh(ApproachFit const& fit, std::span<double const> t, std::span<double const> y,
               double least_scatter, std::vector<double>& w, int& outliers)
{
    std::vector<double> miss(t.size());
    for (std::size_t i = 0; i < t.size(); ++i)
        miss[i] = std::fabs(y[i] - fit.at(t[i]));
    // Three numbers are fitted, so residuals are smaller than errors, the more so the fewer readings.
    double const few =
        std::sqrt(static_cast<double>(t.size()) / std::fmax(static_cast<double>(t.size()) - 3.0, 1.0));
    double const scale = std::fmax(1.4826 * few * median(miss), std::fmax(least_scatter, 1e-12));
    outliers = 0;
    for (std::size_t i = 0; i < t.size(); ++i) {
        double const x = miss[i] / (4.685 * scale);
        w[i] = x < 1.0 ? (1.0 - x * x) * (1.0 - x * x) : 0.0;
        outliers += x >= 1.0 ? 1 : 0;
    }
    return scale;
}

void fit_flat(ApproachFit& fit, std::span<double const> y, double least_scatter)
{
    double const n = static_cast<double>(y.size());
    double mean = 0.0, squares = 0.0;
    for (double v : y)
        mean += v / n;
    for (double v : y)
        squares += (v - mean) * (v - mean);
    fit.flat = true;
    fit.plateau = mean;
    fit.rise = 0.0;
    fit.time_constant = 1.0;
    fit.scatter = std::fmax(std::sqrt(squares / (n - 1.0)), least_scatter);
    fit.u_plateau = fit.scatter / std::sqrt(n);
    fit.degrees_of_freedom = n - 1.0;
    fit.covariance[0][0] = fit.u_plateau * fit.u_plateau;
}

} // namespace

double ApproachFit::at(double t) const
{
    return plateau - remaining(t);
}

double ApproachFit::remaining(double t) const
{
    return flat ? 0.0 : rise * std::exp(-(t - t_first) / time_constant);
}

double ApproachFit::u_at(double t) const
{
    double g[3];
    gradient(*this, t, g);
    return spread(*this, g);
}

double ApproachFit::u_remaining(double t) const
{
    double g[3];
    gradient(*this, t, g);
    double const r[3] = {0.0, -g[1], -g[2]};
    return spread(*this, r);
}

double ApproachFit::band_95(double t) const
{
    return coverage_95(degrees_of_freedom) * u_at(t);
}

Result<ApproachFit> fit_approach(std::span<double const> t, std::span<double const> y, double least_scatter)
{
    if (t.size() < 4 || y.size() != t.size())
        return fail(Error::Code::no_solution, "series",
                    fmt::format("{} readings do not show a plateau: at least four are needed", t.size()));
    if (!(t.back() > t.front()))
        return fail(Error::Code::no_solution, "series", "all readings were taken at the same time");
    ApproachFit fit;
    fit.readings = static_cast<int>(t.size());
    fit.t_first = t.front();
    fit.t_last = t.back();
    auto const [low, high] = std::minmax_element(y.begin(), y.end());
    if (*high - *low <= 3.0 * least_scatter || *high == *low) {
        fit_flat(fit, y, least_scatter);
        return fit;
    }
    std::vector<double> w(t.size(), 1.0);
    double scale = 0.0;
    for (int round = 0; round < 12; ++round) {
        double const tau = best_time_constant(t, y, w);
        Linear const linear = solve(t, y, w, tau);
        double const moved = std::fabs(linear.plateau - fit.plateau);
        fit.time_constant = tau;
        fit.plateau = linear.plateau;
        fit.rise = linear.rise;
        scale = reweigh(fit, t, y, least_scatter, w, fit.outliers);
        if (round > 1 && moved < 1e-4 * scale)
            break;
    }
    // What is left after the outliers counts in full: weights below one would make the scatter look too
    // small.
    for (double& weight : w)
        weight = weight > 0.0 ? 1.0 : 0.0;
    fit.time_constant = best_time_constant(t, y, w);
    Linear const kept = solve(t, y, w, fit.time_constant);
    fit.plateau = kept.plateau;
    fit.rise = kept.rise;

    double normal[3][3] = {}, inverse[3][3] = {};
    double squares = 0.0, weights = 0.0;
    for (std::size_t i = 0; i < t.size(); ++i) {
        double g[3];
        gradient(fit, t[i], g);
        for (int r = 0; r < 3; ++r)
            for (int c = 0; c < 3; ++c)
                normal[r][c] += w[i] * g[r] * g[c];
        double const miss = y[i] - fit.at(t[i]);
        squares += w[i] * miss * miss;
        weights += w[i] > 0.0 ? 1.0 : 0.0;
    }
    fit.degrees_of_freedom = std::fmax(weights - 3.0, 1.0);
    fit.scatter = std::fmax(std::sqrt(squares / fit.degrees_of_freedom), least_scatter);
    if (!invert(normal, inverse))
        return fail(Error::Code::no_solution, "series",
                    "the readings do not bend enough to tell where the plateau lies: take more");
    for (int r = 0; r < 3; ++r)
        for (int c = 0; c < 3; ++c)
            fit.covariance[r][c] = inverse[r][c] * fit.scatter * fit.scatter;
    fit.u_plateau = std::sqrt(fit.covariance[0][0]);
    fit.u_rise = std::sqrt(fit.covariance[1][1]);
    fit.u_time_constant = fit.time_constant * std::sqrt(fit.covariance[2][2]);
    return fit;
}

} // namespace isochore::uncertainty
