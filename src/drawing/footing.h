#pragma once
#include "drawing/marks.h"
#include "drawing/placement.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// A sentence under a picture, its mark before it.
struct FootText {
    std::string text;
    Mark mark = Mark::none;
    Face face = Face::regular;
    Ink ink = Ink::text;
};

/// The conclusion of a picture: bold, in the ink of its mark.
[[nodiscard]] FootText conclusion(std::string text, Mark mark);

/// Sentences wrapped over the width at the foot of a picture. Empty ones take no room; what is more than
/// `most_mm` high is cut from the end, with "…".
class Footing {
public:
    Footing(std::vector<FootText> const& texts, Space space, double size, double most_mm,
            MeasureText const& measure);
    /// With a little air above it; 0 where there is nothing.
    [[nodiscard]] double height() const;
    void draw(Picture& picture, MeasureText const& measure) const;
    /// The same from a height on, where what stands above does not reach the foot.
    void draw_from(double top, Picture& picture, MeasureText const& measure) const;

private:
    struct Line {
        std::string text;
        FootText style; ///< its mark stands at the first line of a text
        double left = 0.0;
        bool last = false; ///< of its text
    };
    void cut(std::size_t most, double width, MeasureText const& measure);

    double m_size;
    std::vector<Line> m_lines;
};

} // namespace isochore::drawing
