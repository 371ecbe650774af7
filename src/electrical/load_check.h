#pragma once
#include "electrical/ct_taps.h"
#include <string>
#include <vector>

namespace isochore::electrical {

/// One way the circuit may really be wired.
struct Wiring {
    std::string terminals; ///< "X2-X4"; empty for a single-ratio CT
    double ratio = 1.0;    ///< of the pair, to 1
    int turns = 1;
    bool delta = false;
    [[nodiscard]] double scale() const; ///< primary A per A read
    double probability = 0.0;           ///< filled in by explain_reading
};

struct LoadReading {
    double primary_a = 0.0; ///< load known from elsewhere
    double reading_a = 0.0; ///< what the coil reads
    double u_primary = 0.0; ///< standard uncertainties, relative
    double u_reading = 0.0;
    double u_ratio = 0.0;   ///< of the CT itself
    double u_floor_a = 0.0; ///< standard uncertainty of the reading that does not shrink with it
};

/// Relative standard uncertainty of primary / reading. Formula: root of the sum of squares, JCGM 100, 5.1.2.
[[nodiscard]] double relative_uncertainty(LoadReading const& r);

/// Every pair with 1 to `most_turns` turns, and the recorded pair on a delta lead.
[[nodiscard]] std::vector<Wiring> possible_wirings(std::vector<Tap> const& taps, Wiring const& recorded,
                                                   int most_turns);

struct Explanation {
    std::vector<Wiring> ranked;  ///< most probable first
    double something_else = 0.0; ///< probability that none of them is the wiring
};

/// Probability of each wiring given the reading (Bayes' rule). Beforehand every wiring counts alike, and so
/// does one more, "something else", whose scale is spread evenly in the logarithm over a factor of 900. The
/// logarithm of primary / reading is taken as normal about that of the scale. Precondition: primary and
/// reading above zero. Source: Bayes' rule; the weights are our own choice.
[[nodiscard]] Explanation explain_reading(std::vector<Wiring> wirings, LoadReading const& reading);

} // namespace isochore::electrical
