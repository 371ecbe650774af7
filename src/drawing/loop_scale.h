#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// A point on the line of a 4 to 20 mA loop that has a name: an alarm, the filling, the reading.
struct LoopPoint {
    double milliampere = 0.0;
    std::string label; ///< "alarm 13.9 mA"
};

/// A current loop as its line: current to the right, what it means upward. The value's unit is the caller's.
struct LoopScale {
    double low = 0.0, high = 1.0;                       ///< values at 4 mA and at 20 mA
    double open_below = 4.0, short_above = 20.0;        ///< mA; beyond them the loop has failed
    std::vector<LoopPoint> levels;                      ///< from the lowest current to the highest
    std::optional<LoopPoint> reading;                   ///< the current now
    std::string open_label = "open", short_label = "short"; ///< names of the two bands
    std::vector<std::string> x_titles{"current in the loop, mA", "current, mA", "mA"};
    std::vector<std::string> y_titles;
};

[[nodiscard]] Picture loop_scale(LoopScale const& loop, Space space, MeasureText const& measure);

} // namespace isochore::drawing
