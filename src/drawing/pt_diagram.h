#pragma once
#include "drawing/chart.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// One line of constant density.
struct Isochore {
    enum class Kind { filling, warn, lockout }; ///< solid, dashed, dotted
    Kind kind = Kind::filling;
    std::vector<Point> points; ///< x: gas temperature in degC, ascending; y: pressure in MPa absolute
    std::string label;         ///< "filling 40 kg/m³"; stands along the line, near its right end
    std::string brief;         ///< "filling 40": used where the label would touch a line
};

/// The state of the gas as read, with the half-widths of its 95 % box.
struct LiveState {
    double temperature_c = 0.0, pressure_mpa = 0.0;
    double temperature_u95 = 0.0, pressure_u95 = 0.0; ///< in K and MPa; 0: no box
    std::string label;                                ///< "now 37.6 ± 0.3 kg/m³"
};

struct PtTarget {
    double temperature_c = 0.0, pressure_mpa = 0.0;
    std::string label; ///< "stop at 4.94 bar g"
};

/// Pressure against temperature. All pressures in MPa absolute, all temperatures in degC.
struct PtDiagram {
    std::vector<Isochore> isochores;
    std::vector<Point> dew_line; ///< saturation: x degC ascending, y MPa absolute
    std::optional<LiveState> live;
    std::optional<double> temperature_now_c; ///< vertical line; of the gas or the air
    std::optional<PtTarget> target;
    std::optional<SecondScale> second; ///< the user's unit on the right; MPa absolute * scale + offset
    std::optional<double> temperature_low_c, temperature_high_c, pressure_low_mpa, pressure_high_mpa;
    std::vector<std::string> x_titles{"gas temperature, °C", "°C"};
    std::vector<std::string> y_titles{"pressure, MPa absolute", "MPa abs"};
    std::string liquid = "liquid"; ///< name of the shaded region
};

/// Draws it. Undrawable numbers are left out; what lies outside the axes is cut.
[[nodiscard]] Picture pt_diagram(PtDiagram const& diagram, Space space, MeasureText const& measure);

} // namespace isochore::drawing
