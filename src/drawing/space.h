#pragma once
#include "drawing/picture.h"
#include <algorithm>

namespace isochore::drawing {

/// The room a picture is given, in mm. Every picture fills it and stays inside it.
struct Space {
    double width_mm = 100.0, height_mm = 80.0;
};

/// An upright rectangle in mm, y downward.
struct Box {
    double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;

    [[nodiscard]] double width() const { return right - left; }
    [[nodiscard]] double height() const { return bottom - top; }
    [[nodiscard]] Point centre() const { return {(left + right) / 2.0, (top + bottom) / 2.0}; }
    [[nodiscard]] bool overlaps(Box const& o) const
    {
        return left < o.right && o.left < right && top < o.bottom && o.top < bottom;
    }
    /// Inside `outer`, with a hundredth of a millimetre for rounding.
    [[nodiscard]] bool inside(Box const& outer) const
    {
        return left >= outer.left - 0.01 && right <= outer.right + 0.01 && top >= outer.top - 0.01 &&
               bottom <= outer.bottom + 0.01;
    }
    [[nodiscard]] Box grown(double by) const { return {left - by, top - by, right + by, bottom + by}; }
    [[nodiscard]] bool holds(Point p) const
    {
        return p.x >= left && p.x <= right && p.y >= top && p.y <= bottom;
    }
};

/// Em size of the body text of a picture: 2.9 mm at 60 x 50 mm (20 minutes of arc at 500 mm), 3.2 mm from
/// about 70 x 60 mm, 4 mm at 90 x 75 mm, at most 4.8 mm.
[[nodiscard]] inline double body_size(Space space)
{
    double const side = std::min(space.width_mm, space.height_mm * 1.25);
    return std::clamp(std::max(std::min(side / 22.0, 4.0), side / 34.0), 2.9, 4.8);
}

/// Line height as a share of the em.
inline constexpr double line_pitch = 1.24;

/// Parts of the em that ink takes above and below the baseline (B612: capitals 0.75, descenders 0.22).
inline constexpr double ink_above = 0.78, ink_below = 0.22;

/// The box a label's ink takes when its text is `width` mm wide.
[[nodiscard]] inline Box label_box(Label const& label, double width)
{
    double const left = label.align == Align::left     ? label.at.x
                        : label.align == Align::centre ? label.at.x - width / 2.0
                                                       : label.at.x - width;
    return {left, label.at.y - ink_above * label.size, left + width, label.at.y + ink_below * label.size};
}

} // namespace isochore::drawing
