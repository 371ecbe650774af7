#pragma once
#include "screens/canvas.h"
#include "screens/views.h"

namespace isochore::screens {

/// Draws the whole sheet and says what the person asked for in this frame. The one entry to this layer.
[[nodiscard]] Intent draw_sheet(Canvas& canvas, SheetView const& view);

/// Room for the picture of a step on the sheet as it stands. In portrait it depends on the words of the step,
/// so a program whose step has changed is asked for its view again when the answer differs.
[[nodiscard]] PictureSpace picture_space(Canvas& canvas, SheetView const& view);

} // namespace isochore::screens
