#pragma once
#include "screens/canvas.h"

namespace isochore::screens {

/// Where the parts of the sheet stand.
struct Layout {
    Rect strip;   ///< the line diagram; empty outside a job
    Rect content; ///< everything between strip and actions
    Rect left;    ///< text column (portrait: the whole width)
    Rect picture; ///< picture column, without the tabs (portrait: its height is fixed, its place flows)
    Rect tabs;    ///< "Why", "Working", "History"
    Rect actions, block;
};

/// `guarded`: one of the actions cannot be taken back, so that more room is kept around their row.
[[nodiscard]] Layout layout(double width_mm, double height_mm, bool with_line, bool guarded);

} // namespace isochore::screens
