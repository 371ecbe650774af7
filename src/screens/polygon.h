#pragma once
#include "drawing/picture.h"
#include <array>
#include <vector>

namespace isochore::screens {

/// Cuts a simple polygon, convex or not, into triangles (ear clipping). A polygon that crosses itself gives
/// what can be cut without guessing.
[[nodiscard]] std::vector<std::array<drawing::Point, 3>> triangles(std::vector<drawing::Point> points);

} // namespace isochore::screens
