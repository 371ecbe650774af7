#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// Temperature at which the water in a gas condenses, against the pressure of the gas. Pressures in bar
/// absolute, temperatures in °C.
struct FrostLine {
    std::vector<Point> line;   ///< x pressure, y temperature: the same share of water all along
    std::optional<Point> read; ///< at the pressure of the analyser
    double read_u95 = 0.0;
    std::optional<Point> at_gas; ///< the same water at the pressure of the breaker
    double at_gas_u95 = 0.0;
    std::optional<double> limit_c; ///< at the pressure of the breaker
    std::string line_label;        ///< "52 ppmv"
    std::string read_label;        ///< "read -48.0 °C"
    std::string gas_label;         ///< "-35.2 ± 2.3 °C in the breaker"
    std::string limit_label;       ///< "limit -5 °C"
    std::vector<std::string> x_titles{"pressure of the gas, bar absolute", "bar absolute", "bar abs"};
    std::vector<std::string> y_titles{"frost or dew point, °C", "°C"};
};

[[nodiscard]] Picture frost_line(FrostLine const& frost, Space space, MeasureText const& measure);

} // namespace isochore::drawing
