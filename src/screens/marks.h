#pragma once
#include "screens/canvas.h"
#include "screens/views.h"

/// The program's own signs. Each is told from the others by its shape alone; colour only repeats it.
namespace isochore::screens {

using drawing::mark_ink;

/// Draws the sign of a state in a square of side `size` around a centre.
void draw_mark(Canvas& canvas, Mark mark, Point centre, double size, Ink ink);

/// The triangle with a bar and a dot that stands beside a caution.
void draw_caution_sign(Canvas& canvas, Point centre, double size, Ink ink, Ink inside);

void draw_padlock(Canvas& canvas, Point centre, double size, Ink ink);

/// The sign on a key that takes back the last character.
void draw_backspace(Canvas& canvas, Point centre, double size, Ink ink);

} // namespace isochore::screens
