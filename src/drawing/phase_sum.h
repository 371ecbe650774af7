#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <array>
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// One way the three coils may sit, and what their sum would then be; several values where it is open which
/// of the coils it concerns.
struct SumExplanation {
    std::string text; ///< "one coil reversed"
    std::vector<double> expected_a;
    double probability = 0.0; ///< 0 to 1
};

/// Three phase currents as arrows from one point, and their sum as read against what each
/// way of mounting would give. All currents in A; the 95 % half width of the sum in `u95_a`.
struct PhaseSum {
    std::array<double, 3> phase_a{};
    std::array<int, 3> direction{1, 1, 1}; ///< -1 where a coil faces the other way, 0 where it may
    std::array<double, 3> angle_deg{0.0, -120.0, 120.0};
    double sum_a = 0.0, u95_a = 0.0;
    std::vector<SumExplanation> explanations; ///< the likeliest first
    std::array<std::string, 3> names{"A", "B", "C"};
    std::string read_label = "sum read";
    std::vector<std::string> x_titles{"sum of the three, A; share: how probable", "sum of the three, A", "A"};
};

[[nodiscard]] Picture phase_sum(PhaseSum const& sum, Space space, MeasureText const& measure);

} // namespace isochore::drawing
