#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// Share of air left in a space after each cycle of letting down and filling, over a scale of decades.
struct AirLeft {
    std::vector<double> shares; ///< after 0, 1, 2, … cycles; 1 is all air
    std::optional<double> limit;
    std::string limit_label;  ///< "limit 1.5 %"
    std::string result_label; ///< "0.3 ppmv after cycle 3"
    std::vector<std::string> x_titles{"cycles of letting down and filling", "cycles"};
    std::vector<std::string> y_titles{"air left, share by volume", "air left"};
};

[[nodiscard]] Picture air_left(AirLeft const& air, Space space, MeasureText const& measure);

/// A share by volume in words of the trade: "1.5 %", "200 ppmv", "0.3 ppmv".
[[nodiscard]] std::string share_text(double share);

} // namespace isochore::drawing
