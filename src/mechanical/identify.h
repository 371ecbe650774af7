#pragma once
#include "mechanical/joint.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::mechanical {

/// What was measured on an unknown thread. Standard uncertainties in the same unit, above zero where the
/// measurement is there.
struct ThreadReading {
    Gender gender = Gender::male;
    double diameter_m = 0.0; ///< over the crests: major of a male, minor of a female thread
    double u_diameter_m = 0.0;
    std::optional<double> pitch_m;
    double u_pitch_m = 0.0;
    std::optional<double> taper; ///< change of diameter with length
    double u_taper = 0.0;
    std::optional<double> flank_deg;
    double u_flank_deg = 0.0;
};

struct ThreadCandidate {
    Thread thread;
    double misfit = 0.0;      ///< sum of squared differences in standard uncertainties
    double probability = 0.0; ///< among the threads of the library, all alike beforehand
};

/// Diameter over the crests of the given gender, with the half range a taper gives it along its length.
struct CrestDiameter {
    double middle_m = 0.0, half_range_m = 0.0;
};
[[nodiscard]] CrestDiameter crest_diameter(Thread const& thread, Gender gender);

/// The library's threads, most probable first. R is an external, Rc and Rp are internal threads only.
/// Formula: normal likelihood in each measurement; the range along a taper counts as a rectangular
/// contribution. Number of measurements used: `measured_count`.
[[nodiscard]] std::vector<ThreadCandidate> identify_thread(std::vector<Thread> const& library,
                                                           ThreadReading const& reading);
[[nodiscard]] int measured_count(ThreadReading const& reading);

/// The measurement not yet taken that separates the two best, or empty when none does.
[[nodiscard]] std::optional<Distinction>
next_measurement(Thread const& a, Thread const& b, ThreadReading const& reading, ThreadGauges const& gauges);

} // namespace isochore::mechanical
