#pragma once
#include "drawing/footing.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// The unit on its wall from the side: where its mass hangs and how far apart the bolts stand.
struct BoltPlace {
    double standoff_mm = 0.0; ///< wall to centre of mass
    double spacing_mm = 0.0;  ///< between the rows of bolts
    std::string shock;        ///< "15 g, 4.8 kg"
    std::string tension;      ///< at the worst bolt: "317 N"
    std::string shear;        ///< "177 N"
};

/// Tension and shear of the worst bolt as shares of what each alone may be, held against their sum.
struct BoltLoad {
    double tension = 0.0, shear = 0.0; ///< shares of 1
    double allowed = 1.0;              ///< of their sum
    std::string point_label;           ///< "5.1 % in use"
    std::string limit_label;           ///< "tension + shear = 100 %"
    Mark verdict = Mark::none;         ///< of the sum
    std::optional<BoltPlace> place;
    std::vector<FootText> foot; ///< further checks in words
    std::vector<std::string> x_titles{"tension, % of what a fixing stands", "tension, %"};
    std::vector<std::string> y_titles{"shear, %"};
};

/// Beside it the unit from the side where there is room.
[[nodiscard]] Picture bolt_load(BoltLoad const& load, Space space, MeasureText const& measure);

} // namespace isochore::drawing
