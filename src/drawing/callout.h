#pragma once
#include "drawing/placement.h"
#include <string>

namespace isochore::drawing {

/// What to write at a point, and how.
struct Callout {
    Point at;
    std::string text;
    double size = 3.2;
    Ink ink = Ink::text;
    Face face = Face::regular;
    double clear = 2.2; ///< how far the text stays from the point
};

/// Puts the text beside the point, or elsewhere in `bounds` with a thin leader to it. False, and nothing
/// drawn, when there is no room or the point lies outside the bounds.
bool put_callout(Picture& picture, Placement& placement, Callout const& callout, Box bounds);

} // namespace isochore::drawing
