#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>

namespace isochore::drawing {

/// How an input of the unit is connected.
enum class Connection {
    parallel_trip_coil, ///< trip input in parallel with the trip coil
    separate_output,    ///< trip input on a wetted output of its own, with a noise resistor
    lamp_52b,           ///< 52b input across the lamp that a 52b contact lights
    wetted_52b,         ///< 52b input on a 52b contact of its own, wetted from the supply
};

/// The wiring as connected. Notes are a second line under a label: a value or a voltage ("117 V when
/// tripped"); any text may be empty.
struct WiringDiagram {
    Connection connection = Connection::separate_output;
    std::string positive = "+ 125 V dc", negative = "–";
    std::string supervision;          ///< "74": the trip-circuit supervision relay; empty: there is none
    bool coil_contact = false;        ///< a 52a contact stands in series with the coil
    bool input_across_contact = true; ///< the parallel input spans 52a and coil; else the coil alone
    bool fused = false;               ///< the new branch has its own fuse
    std::string trip_label = "trip", trip_note;
    std::string output_label = "trip, follows every path", output_note;
    std::string contact_52_label = "52b", contact_52_note;
    std::string coil_label = "trip coil", coil_note;
    std::string lamp_label = "lamp", lamp_note;
    std::string resistor_label, resistor_note; ///< "18 kΩ"; empty: no resistor is fitted
    std::string unit_label = "unit", input_label = "trip input", input_note;
};

/// Draws it in symbols of IEC 60617, contacts at rest (no trip, breaker open); dots only where conductors are
/// joined.
[[nodiscard]] Picture wiring_diagram(WiringDiagram const& wiring, Space space, MeasureText const& measure);

} // namespace isochore::drawing
