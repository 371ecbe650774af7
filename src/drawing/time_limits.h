#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// A time that must lie from `low_ms` to `high_ms`, and what was read, ms.
struct TimeLimit {
    std::string name; ///< "spread between poles, opening"
    double low_ms = 0.0, high_ms = 0.0;
    std::optional<double> read_ms;
    bool strong = false; ///< a line marks the end of this one through all rows
};

/// Time limits of a breaker over one scale, with the current of the network above them.
struct TimeLimits {
    double cycle_ms = 0.0;   ///< period of the network; 0: no wave is drawn
    double arc_out_ms = 0.0; ///< the current ends here at the latest
    std::vector<TimeLimit> limits;
    std::string end_label;              ///< at the end of the current: "5 cycles at 60 Hz: 83.3 ms"
    std::string read_label = "as read"; ///< what the mark of a reading means
    std::vector<std::string> x_titles{"milliseconds from the energised coil", "milliseconds", "ms"};
};

[[nodiscard]] Picture time_limits(TimeLimits const& limits, Space space, MeasureText const& measure);

} // namespace isochore::drawing
