#pragma once
#include "drawing/marks.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// One part of the pipe run, from the breaker's port to the sensor.
struct ChainPart {
    enum class Shape { port, pipe, adapter, tee, elbow, valve, coupling, sensor, cap };
    std::string name; ///< "fill port", "tee DN8"
    Shape shape = Shape::adapter;
    double length_mm = 20.0;   ///< of the real part; sets how long it is drawn
    double diameter_mm = 20.0; ///< outer; sets how thick it is drawn
};

/// The joint between a part and the next one.
struct ChainJoint {
    std::string name;   ///< "G 3/8, bonded seal"
    std::string reason; ///< why it fails or cannot be judged; may be empty
    Mark mark = Mark::none;
    std::string mark_word{}; ///< in the language of the sheet; empty: in English
};

/// A fitting chain. `joints[i]` joins `parts[i]` and `parts[i + 1]`; missing joints have no mark.
struct FittingChain {
    std::vector<ChainPart> parts;
    std::vector<ChainJoint> joints;
    std::string totals; ///< "added 0.142 l, 410 mm long"; may be empty
};

/// Lying, with numbered joints and a list below, where the space is wide; standing, with the names beside
/// it, where it is narrow.
[[nodiscard]] Picture fitting_chain(FittingChain const& chain, Space space, MeasureText const& measure);

} // namespace isochore::drawing
