#pragma once
#include "drawing/marks.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// A thread as a point of the plane of diameter and pitch; a taper spreads it over a range of diameters.
struct ThreadSpot {
    std::string label; ///< "G 1/2, 93 %"
    double diameter_mm = 0.0, half_range_mm = 0.0, pitch_mm = 0.0;
};

/// What was measured on a thread, with its 95 % bars, among the threads it may be.
struct ThreadPlane {
    std::vector<ThreadSpot> spots; ///< most probable first
    double diameter_mm = 0.0, diameter_u95_mm = 0.0;
    std::optional<double> pitch_mm;
    double pitch_u95_mm = 0.0;
    std::string measured_label = "measured";
    std::string result; ///< "G 1/2 with 93 %"; may be empty
    Mark verdict = Mark::none;
    std::string next; ///< what to measure next, and what it would say; may be empty
    std::vector<std::string> x_titles{"diameter over the crests, mm", "diameter, mm"};
    std::vector<std::string> y_titles{"pitch, mm"};
};

/// The best is a full dot, the others are rings; a taper has a bar over its diameters.
[[nodiscard]] Picture thread_plane(ThreadPlane const& plane, Space space, MeasureText const& measure);

} // namespace isochore::drawing
