#pragma once
#include "drawing/picture.h"
#include <optional>

namespace isochore::drawing {

/// A status as a shape that reads without colour, the same on the sheet, in pictures and on paper: pass a
/// circle with a tick, recorded (done, with nothing to hold it against) a tick alone, fail an octagon with a
/// cross, undecided a diamond with a question mark, overridden a diamond with a bar, deferred a clock, not
/// applicable a bar, locked a padlock, open an empty square.
enum class Mark { none, pass, recorded, fail, undecided, open, locked, deferred, not_applicable, overridden };

/// Draws a mark in the square of side `size` around `centre`, in its own ink or the one given; no text.
void draw_mark(Picture& picture, Mark mark, Point centre, double size, std::optional<Ink> ink = {});

/// The role a mark is drawn in.
[[nodiscard]] Ink mark_ink(Mark mark);

/// One word: "pass", "recorded", "fail", "undecided", "open", "locked", "deferred", "not applicable",
/// "overridden".
[[nodiscard]] char const* mark_word(Mark mark);

} // namespace isochore::drawing
