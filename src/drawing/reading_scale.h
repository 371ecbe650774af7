#pragma once
#include "drawing/footing.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// A value on the scale with its name.
struct ScaledReading {
    std::string name;  ///< "as read", "first coil"
    std::string value; ///< "5.08 bar g"
    double at = 0.0;
    bool here = true; ///< the one the sheet is about; others stand beside it for comparison
};

/// What a reading should be, with its 95 % interval, and what was read, over one scale in the unit of the
/// person who reads.
struct ReadingScale {
    ScaledReading expected;
    double low = 0.0, high = 0.0; ///< 95 % interval of the expectation; low = high: none is known
    std::vector<ScaledReading> readings;
    struct Limit {
        double at = 0.0;
        std::string label;
    };
    std::vector<Limit> limits;       ///< drawn where they lie near enough to leave the interval its width
    std::vector<std::string> titles; ///< of the scale, longest first
    FootText conclusion;             ///< "inside the interval"; may be empty
};

[[nodiscard]] Picture reading_scale(ReadingScale const& scale, Space space, MeasureText const& measure);

} // namespace isochore::drawing
