#pragma once
#include "screens/canvas.h"
#include <string>
#include <vector>

/// The rules for gloves and eyes that every drawn sheet must keep, whatever it shows and in whatever
/// language. Each returns one sentence a fault, naming the elements and their places in millimetres; empty
/// when all is well. Sizes: screens/sizes.h; type: ISO 9241-3 (16 minutes of arc at least, 20 to 22
/// preferred).
namespace isochore::screens {

/// What was drawn on one sheet of so many millimetres.
struct DrawnSheet {
    double width_mm = 0.0, height_mm = 0.0;
    std::vector<Element> const& elements;
};

using Faults = std::vector<std::string>;

[[nodiscard]] Faults cut_texts(DrawnSheet const& sheet);
[[nodiscard]] Faults small_targets(DrawnSheet const& sheet);    ///< under 15 mm, acts and number keys 20 mm
[[nodiscard]] Faults close_targets(DrawnSheet const& sheet);    ///< under 3 mm apart, 6 mm beside a held act
[[nodiscard]] Faults bezel_targets(DrawnSheet const& sheet);    ///< too near the edge for a finger
[[nodiscard]] Faults stacked_texts(DrawnSheet const& sheet);    ///< text on text
[[nodiscard]] Faults straddling_texts(DrawnSheet const& sheet); ///< text across the edge of a target
[[nodiscard]] Faults escaped_texts(DrawnSheet const& sheet);    ///< off the sheet or clipped sideways
[[nodiscard]] Faults small_texts(DrawnSheet const& sheet);
[[nodiscard]] Faults
untested_inks(DrawnSheet const& sheet); ///< a pair of inks whose contrast no test computes

/// All of them.
[[nodiscard]] Faults sheet_faults(DrawnSheet const& sheet);

} // namespace isochore::screens
