#pragma once
#include "drawing/chart.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// One place of a band: between `low` and `high` at x.
struct BandPoint {
    double x = 0.0, low = 0.0, high = 0.0;
};

/// A level drawn across a chart.
struct Level {
    double value = 0.0;
    std::string label;
};

/// Purity against time. Time in minutes, purity in % by volume.
struct PurgeCurve {
    std::vector<Point> readings;  ///< x minutes, y %
    std::vector<Point> fit;       ///< the fitted curve; solid up to the last reading, dashed beyond
    std::vector<BandPoint> band;  ///< its 95 % band
    std::optional<Level> limit;   ///< {98.5, "limit 98.5"}
    std::optional<Level> plateau; ///< {99.1, "plateau 99.1 ± 0.2 %"}
    std::optional<double> minutes_high, purity_low; ///< ends of the axes where the readings do not set them
    std::vector<std::string> x_titles{"minutes since the analyser was opened", "minutes since opening",
                                      "minutes"};
    std::vector<std::string> y_titles{"purity, % by volume", "purity, %"};
};

[[nodiscard]] Picture purge_curve(PurgeCurve const& curve, Space space, MeasureText const& measure);

} // namespace isochore::drawing
