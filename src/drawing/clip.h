#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <vector>

namespace isochore::drawing {

/// True when any part of the segment lies in the box.
[[nodiscard]] bool segment_meets(Point a, Point b, Box const& box);

/// The parts of a line inside a box, in order. Points that are not finite split the line.
[[nodiscard]] std::vector<std::vector<Point>> clip_line(std::vector<Point> const& line, Box const& box);

/// The part of an area inside a box. Source: Sutherland and Hodgman 1974, Comm. ACM 17(1), for convex clip
/// regions.
[[nodiscard]] std::vector<Point> clip_area(std::vector<Point> const& area, Box const& box);

/// y of a line at x, between its points; beyond its ends the nearest end's y.
[[nodiscard]] double height_at(std::vector<Point> const& line, double x);

} // namespace isochore::drawing
