#pragma once
#include "drawing/chart.h"
#include "drawing/picture.h"
#include "drawing/purge_curve.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// A reading with the half-width of its 95 % interval.
struct MarkedReading {
    double x = 0.0, y = 0.0, u95 = 0.0;
};

/// Density, or mass lost, against time. The caller chooses the units and names them in the titles; all
/// members are in these two units.
struct LeakLine {
    std::vector<MarkedReading> readings;
    std::vector<Point> fit;      ///< the fitted line, two points or more
    std::vector<BandPoint> band; ///< its 95 % band
    std::vector<Point> limit;    ///< the steepest line the limit allows, from the fitted start
    std::vector<Level> levels;   ///< warn and lockout, across the whole plot
    std::string limit_label;     ///< "limit 0.5 % a year"
    std::string result_label;    ///< "leak 0.21 ± 0.30 % a year"
    std::vector<std::string> x_titles{"hours"};
    std::vector<std::string> y_titles{"density, kg/m³"};
};

[[nodiscard]] Picture leak_line(LeakLine const& leak, Space space, MeasureText const& measure);

} // namespace isochore::drawing
