#pragma once
#include "drawing/picture.h"
#include "screens/canvas.h"

namespace isochore::screens {

/// Paints a display list into a rectangle, at its own size when it fits and shrunk evenly when it does not,
/// centred. The element `id` carries the spoken sentence.
void paint_picture(Canvas& canvas, drawing::Picture const& picture, Rect const& space, std::string const& id);

} // namespace isochore::screens
