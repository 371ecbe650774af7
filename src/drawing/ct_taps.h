#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// A current transformer's secondary with its taps; one of a single ratio has one segment.
struct CtTaps {
    std::vector<int> segment_turns;          ///< between neighbouring terminals, first to last
    std::vector<std::string> segment_labels; ///< in place of the turns, where these are not known: "1200:5"
    std::vector<std::string> names; ///< of the terminals, one more than segments; missing ones are X1, X2, …
    int from = 0, to = 0;           ///< used pair, counted from 1; 0: none chosen
    std::string used_label;         ///< "1200:5, 240 turns"
    std::string note;               ///< "same ratio as X3-X5: the pair decides"; may be empty
    std::string primary = "H1", turns = "turns";
};

[[nodiscard]] Picture ct_taps(CtTaps const& taps, Space space, MeasureText const& measure);
/// The same with type of a size, as part of a larger picture.
[[nodiscard]] Picture ct_taps(CtTaps const& taps, Space space, MeasureText const& measure, double size);

} // namespace isochore::drawing
