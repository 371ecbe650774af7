#pragma once
#include "drawing/footing.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>

namespace isochore::drawing {

/// A display behind a window of the cabinet's door, from above, the eye on the window's axis. All mm.
struct SightLine {
    double window_mm = 0.0, display_mm = 0.0;
    double offset_mm = 0.0; ///< between the middles of window and display
    double gap_mm = 0.0;    ///< window to display
    double eye_mm = 0.0;    ///< eye to window
    std::string result;     ///< "78 % is seen, 90 % asked"
    Mark verdict = Mark::none;
    std::string note;   ///< "display 90 mm, 40 mm off the window's middle"; may be empty
    std::string window; ///< "window 120 mm"
    std::string eye = "eye", display = "display", hidden = "hidden";
};

/// Half the angle the window leaves to the eye, degrees. Formula: atan(w / 2e).
[[nodiscard]] double sight_half_angle_deg(SightLine const& sight);

/// Across and along it has scales of its own, so that the figures stand at the lengths.
[[nodiscard]] Picture sight_line(SightLine const& sight, Space space, MeasureText const& measure);

} // namespace isochore::drawing
