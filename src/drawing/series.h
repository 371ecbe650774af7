#pragma once
#include "drawing/chart.h"
#include "drawing/purge_curve.h"

namespace isochore::drawing {

/// What the charts over time share: bands, levels and their names.

/// Shades a 95 % band behind its curve.
void draw_band(Chart& chart, std::vector<BandPoint> const& band);

/// A level across the plot.
void draw_level(Chart& chart, double value, Ink ink, Dash dash);

/// Names a level along its line.
void name_level(Picture& picture, Placement& placement, Chart const& chart, Level const& level, Ink ink);

/// Names the plateau: large and in the accent, with a leader to where the curve flattens.
void name_plateau(Picture& picture, Placement& placement, Chart const& chart, Level const& plateau);

} // namespace isochore::drawing
