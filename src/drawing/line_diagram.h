#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// One stage of the outage: one switching device of the line.
struct LineStage {
    std::string label;    ///< "Fill"
    bool closed = false;  ///< the stage is done
    bool current = false; ///< the stage in hand: its label is reversed
    std::string flag;     ///< small words over the device ("1 later"); may be empty
};

/// Em size of the labels on a screen or in a picture.
inline constexpr double line_label_size = 2.9;

/// The outage as a single-line diagram from bus to bus, open where work is left. Drawn on as many rows as
/// its labels need at their em size.
[[nodiscard]] Picture line_diagram(std::vector<LineStage> const& stages, Space space,
                                   MeasureText const& measure, double size = line_label_size);

/// The height the line needs at a width.
[[nodiscard]] double line_diagram_height(std::vector<LineStage> const& stages, double width_mm,
                                         MeasureText const& measure, double size = line_label_size);

} // namespace isochore::drawing
