#pragma once
#include <array>
#include <string>
#include <vector>

namespace isochore::electrical {

/// Three phase readings and the reading of their sum (all three conductors in one coil, or summed by the
/// unit), A, for a load that is nearly balanced. u: standard uncertainty of one reading, relative.
struct PhaseReadings {
    std::array<double, 3> phase_a{};
    double sum_a = 0.0;
    double u_relative = 0.0;
    double u_floor_a = 0.0;
    double u_angle_rad = 0.0; ///< of the load's departure from 120 degrees
};

/// One way the three coils may sit.
struct PhaseHypothesis {
    std::string text;                  ///< "all alike", "coil on B reversed"
    std::array<int, 3> direction{};    ///< +1 or -1; 0: that coil reads nothing of the sum
    std::array<double, 3> angle_rad{}; ///< of the phase each coil is on
    double expected_sum_a = 0.0;
    double probability = 0.0;
};

/// Standard uncertainty of the reading of the sum against what the three phases let expect, A.
[[nodiscard]] double sum_uncertainty_a(PhaseReadings const& r);

/// Probability of each hypothesis: all alike, one coil reversed (the sum is then twice that phase), or two
/// coils on one phase. Every one counts alike beforehand; normal likelihood of the sum's reading. Formula |d1
/// I1 + d2 I2 e^(-j120) + d3 I3 e^(+j120)|.
[[nodiscard]] std::vector<PhaseHypothesis> explain_sum(PhaseReadings const& r);

} // namespace isochore::electrical
