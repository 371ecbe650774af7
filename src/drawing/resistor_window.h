#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// One requirement on the resistance.
struct ResistorBound {
    std::string label;       ///< "heat, 5 W part"
    double limit_ohm = 0.0;  ///< not finite or not above zero: never binds
    bool is_minimum = false; ///< at least; otherwise at most
};

/// The resistor's window on a logarithmic ruler. All in ohm.
struct ResistorRuler {
    double low_ohm = 0.0; ///< window; empty when low > high
    double high_ohm = std::numeric_limits<double>::infinity();
    std::vector<double> preferred_ohm; ///< values of the E series worth a tick
    std::optional<double> chosen_ohm;  ///< the triangle
    std::vector<ResistorBound> bounds; ///< drawn below the ruler where there is room, each as its own arrow
    std::string empty_label = "no value fits"; ///< said when the window is empty
};

[[nodiscard]] Picture resistor_window(ResistorRuler const& ruler, Space space, MeasureText const& measure);

} // namespace isochore::drawing
