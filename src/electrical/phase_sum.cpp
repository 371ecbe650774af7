#include "electrical/phase_sum.h"
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

namespace isochore::electrical {
namespace {

constexpr double third = 2.0 * std::numbers::pi / 3.0;

double sum_of(std::array<double, 3> const& size, std::array<int, 3> const& direction,
              std::array<double, 3> const& angle)
{
    std::complex<double> sum;
    for (std::size_t i = 0; i < 3; ++i)
        sum += std::polar(size[i], angle[i]) * static_cast<double>(direction[i]);
    return std::abs(sum);
}

} // namespace

// A sum near zero is the difference of large numbers: it is known only as well as they and their angles are.
double sum_uncertainty_a(PhaseReadings const& r)
{
    double const largest = *std::max_element(r.phase_a.begin(), r.phase_a.end());
    return std::sqrt(3.0 * std::pow(r.u_relative * largest, 2) + 2.0 * std::pow(r.u_angle_rad * largest, 2) +
                     std::pow(r.u_floor_a, 2) + std::pow(r.u_relative * r.sum_a, 2));
}

std::vector<PhaseHypothesis> explain_sum(PhaseReadings const& r)
{
    std::array const right{0.0, -third, third};
    std::vector<PhaseHypothesis> all{
        {"all three alike", {1, 1, 1}, right, sum_of(r.phase_a, {1, 1, 1}, right), 0.0}};
    char const* names[] = {"A", "B", "C"};
    for (std::size_t i = 0; i < 3; ++i) {
        std::array<int, 3> direction{1, 1, 1};
        direction[i] = -1;
        all.push_back({std::string("coil on ") + names[i] + " reversed", direction, right,
                       sum_of(r.phase_a, direction, right), 0.0});
    }
    for (std::size_t i = 0; i < 3; ++i) {
        std::array<double, 3> angle = right;
        angle[(i + 1) % 3] = right[i];
        all.push_back({std::string("two coils on ") + names[i],
                       {1, 1, 1},
                       angle,
                       sum_of(r.phase_a, {1, 1, 1}, angle),
                       0.0});
    }
    double const u = sum_uncertainty_a(r);
    double total = 0.0;
    double best = 1e300;
    for (PhaseHypothesis const& h : all)
        best = std::min(best, std::pow((r.sum_a - h.expected_sum_a) / u, 2));
    for (PhaseHypothesis& h : all) {
        h.probability = std::exp(-0.5 * (std::pow((r.sum_a - h.expected_sum_a) / u, 2) - best));
        total += h.probability;
    }
    for (PhaseHypothesis& h : all)
        h.probability /= total;
    std::stable_sort(all.begin(), all.end(),
                     [](auto const& a, auto const& b) { return a.probability > b.probability; });
    return all;
}

} // namespace isochore::electrical
