#pragma once
#include "drawing/picture.h"
#include "screens/canvas.h"

namespace isochore::screens {

/// Paints a display list into a rectangle, at its own size when it fits and shrunk evenly when it does not,
/// centred. The element `id` carries the spoken sentence.
void paint_picture(Canvas& canvas, drawing::Picture const& picture, Rect const& space, std::string const& id);

/// Paints a display list where it stands, in millimetres of the sheet.
void paint_items(Canvas& canvas, drawing::Picture const& picture);

} // namespace isochore::screens
