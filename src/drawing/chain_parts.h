#pragma once
#include "drawing/fitting_chain.h"
#include "drawing/picture.h"

namespace isochore::drawing {

/// Which way a pipe run is drawn.
enum class Run { lying, standing };

/// Where one part is drawn: from `start` along the run for `length` mm, `thick` mm across.
struct PartPlace {
    Point start;
    double length = 10.0, thick = 8.0;
    Run run = Run::lying;
    [[nodiscard]] Point at(double along, double across) const
    {
        return run == Run::lying ? Point{start.x + along, start.y + across}
                                 : Point{start.x + across, start.y + along};
    }
};

/// Draws the outline of a part with what tells its kind.
void draw_chain_part(Picture& picture, ChainPart::Shape shape, PartPlace const& place);

} // namespace isochore::drawing
