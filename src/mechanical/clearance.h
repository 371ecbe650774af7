#pragma once
#include "quantity/result.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::mechanical {

/// One member of a stack along a line: its size and the plus-or-minus it may be off, m.
struct StackPart {
    std::string name;
    double size_m = 0.0;
    double tolerance_m = 0.0;
};

struct Clearance {
    double nominal_m = 0.0;
    double spread_worst_m = 0.0; ///< sum of all tolerances
    double spread_rss_m = 0.0;   ///< root of the sum of their squares
    [[nodiscard]] double worst_m() const { return nominal_m - spread_worst_m; }
    [[nodiscard]] double likely_worst_m() const { return nominal_m - spread_rss_m; }
};

/// What is left of `available` after all parts; negative when they do not fit.
/// Errors: out_of_range for a size or tolerance below zero, or no depth.
[[nodiscard]] Result<Clearance> stack_clearance(StackPart const& available,
                                                std::vector<StackPart> const& parts, std::string_view where);

/// What an eye sees of a display through a window: both flat, facing, their centres `offset` apart, `gap`
/// apart, the eye on the window's axis at `distance` from the window. All m, along one axis.
struct SightCase {
    double window_m = 0.0;
    double display_m = 0.0;
    double offset_m = 0.0;
    double gap_m = 0.0;
    double eye_distance_m = 0.5;
};

/// Share of the display's extent that is seen, 0 to 1. Similar triangles: the window's half width w at
/// distance e lets a half width w (e + gap) / e be seen behind it.
[[nodiscard]] double visible_share(SightCase const& c);

} // namespace isochore::mechanical
