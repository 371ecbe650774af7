#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// A multi-ratio current transformer's secondary with its taps.
struct CtTaps {
    std::vector<int> segment_turns; ///< between neighbouring terminals, first to last
    std::vector<std::string> names; ///< of the terminals, one more than segments; missing ones are X1, X2, …
    int from = 0, to = 0;           ///< used pair, counted from 1; 0: none chosen
    std::string used_label;         ///< "1200:5, 240 turns"
    std::string note;               ///< "same ratio as X3-X5: the pair decides"; may be empty
    std::string primary = "H1", turns = "turns";
};

[[nodiscard]] Picture ct_taps(CtTaps const& taps, Space space, MeasureText const& measure);

} // namespace isochore::drawing
