#pragma once
#include "drawing/footing.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// What input and supervision see in one state of breaker and trip coil.
struct CoilState {
    std::string breaker, coil;    ///< "closed", "healthy"
    std::string voltage, current; ///< across the input, through the supervision: "0.1 V", "6.4 mA"
    Mark voltage_mark = Mark::none, current_mark = Mark::none; ///< where it is held against its limit
};

/// The states of a supervised trip coil with the input across it, and what follows from them. The caller puts
/// the marks; texts may be empty.
struct CoilStates {
    std::string title = "input across the trip coil";
    std::string breaker_head = "breaker", coil_head = "coil", voltage_head = "input",
                current_head = "supervision";
    std::vector<std::string> voltage_limits; ///< wordings, longest first: "on from 60 V", "60 V"
    std::vector<std::string> current_limits; ///< "alarm below 1.5 mA", "< 1.5 mA"
    std::vector<CoilState> rows;             ///< the states that decide first
    std::vector<FootText> foot;              ///< what follows: the conclusion first, then why
};

/// The height in mm it takes at a width with nothing left out, with type of a size.
[[nodiscard]] double coil_states_height(CoilStates const& states, Space space, MeasureText const& measure,
                                        double size);

/// A table, and under it what follows. Where there is no room for all of it, the states that decide least
/// and the end of the reasons are left out.
[[nodiscard]] Picture coil_states(CoilStates const& states, Space space, MeasureText const& measure);
/// The same with type of a size, as part of a larger picture.
[[nodiscard]] Picture coil_states(CoilStates const& states, Space space, MeasureText const& measure,
                                  double size);

} // namespace isochore::drawing
