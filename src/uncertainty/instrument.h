#pragma once
#include "uncertainty/input.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::uncertainty {

/// What is known of an instrument, each in the unit of the reading. All parts given are combined.
struct Instrument {
    std::optional<double> standard; ///< a standard uncertainty as it is
    std::optional<double> limit;    ///< +- limit of error, rectangular
    std::optional<double>
        accuracy_class; ///< fraction of span, with `span`; rectangular (EN 837-1 for gauges)
    std::optional<double> span;
    std::optional<double> resolution; ///< smallest step shown; rectangular of half a step either way
    std::optional<double> calibration_expanded; ///< U of the calibration certificate
    double calibration_factor = 2.0;            ///< its k
    std::optional<double> repeatability;        ///< standard deviation of `readings` readings
    int readings = 1;
};

/// Standard uncertainty of a reading and its shape: that of the only part, or normal when several combine.
/// Source  JCGM 100:2008, 4.3.3 (certificate), 4.3.7 (limits), 4.2.3 (repeated readings), F.2.2.1
/// (resolution).
[[nodiscard]] Input reading(std::string name, double value, Instrument const& instrument);

/// The accuracy class a gauge of this span may have for its reading to have at most this u.
[[nodiscard]] double class_for(double u, double span);

} // namespace isochore::uncertainty
