#pragma once
#include "drawing/picture.h"

namespace isochore::drawing {

/// A status as a shape that reads without colour: pass a circle with a tick, fail a triangle with a cross,
/// undecided a diamond with a question mark, deferred a circle with clock hands, overridden a square with a
/// stroke and a dot, not applicable a circle with a bar, locked a padlock, open an empty circle.
enum class Mark { none, pass, fail, undecided, open, locked, deferred, not_applicable, overridden };

/// Draws a mark in the square of side `size` around `centre`; strokes only, no text.
void draw_mark(Picture& picture, Mark mark, Point centre, double size);

/// The role a mark is drawn in.
[[nodiscard]] Ink mark_ink(Mark mark);

/// One word: "pass", "fail", "undecided", "open", "locked", "deferred", "not applicable", "overridden".
[[nodiscard]] char const* mark_word(Mark mark);

} // namespace isochore::drawing
