#pragma once
#include "drawing/marks.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// One part of the stack from the cabinet's back to its door.
struct StackPart {
    enum class Kind { plate, unit, connector, cable_bend };
    std::string label;
    Kind kind = Kind::unit;
    double depth_mm = 0.0, tolerance_mm = 0.0; ///< of the real part
};

/// The cabinet in section. All lengths in mm as they are in the cabinet.
struct ClearanceSection {
    double depth_mm = 0.0, tolerance_mm = 0.0; ///< from the mounting face to the shut door
    std::vector<StackPart> parts;
    double gap_mm = 0.0;   ///< what is left with every part at its nominal size; negative: they collide
    std::string gap_label; ///< "gap 14 mm, worst case 9 mm"
    Mark verdict = Mark::none;
    std::string verdict_word; ///< in the language of the sheet; empty: in English
    std::string back = "back plate", door = "door, shut";
};

[[nodiscard]] Picture clearance_section(ClearanceSection const& section, Space space,
                                        MeasureText const& measure);

} // namespace isochore::drawing
