#pragma once
#include "drawing/ct_taps.h"
#include "drawing/footing.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// One stage of the current between the CT's terminals and the unit.
struct CtStage {
    enum class Kind { delta, auxiliary, coil };
    Kind kind = Kind::coil;
    std::string name;    ///< "auxiliary CT", "coil"
    std::string factor;  ///< "5:1", "× 2"
    std::string current; ///< behind it, at the rated primary current: "1.73 A"
    int turns = 1;       ///< of a coil: times the conductor passes through
};

/// A current transformer and what follows it, up to the coil.
struct CtPath {
    CtTaps main;           ///< a CT of one ratio has one segment, named S1 and S2
    std::string primary;   ///< rated: "1200 A"
    std::string terminals; ///< in use: "X1-X3"
    std::string secondary; ///< there: "5 A"
    std::vector<CtStage> stages;
    std::vector<FootText> foot; ///< the figures in one line, and what to mind
};

/// The winding above, the stages in a row under it with the current behind each.
[[nodiscard]] Picture ct_path(CtPath const& path, Space space, MeasureText const& measure);

} // namespace isochore::drawing
