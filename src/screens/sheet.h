#pragma once
#include "screens/canvas.h"
#include "screens/views.h"

namespace isochore::screens {

/// Draws the whole sheet and says what the person asked for in this frame. The one entry to this layer.
[[nodiscard]] Intent draw_sheet(Canvas& canvas, SheetView const& view);

/// Room for the picture of a step on a sheet of this size.
[[nodiscard]] PictureSpace picture_space(double width_mm, double height_mm, SheetView const& view);

} // namespace isochore::screens
