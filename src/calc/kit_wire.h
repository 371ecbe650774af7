#pragma once
#include "calc/inputs.h"
#include "planning/kit.h"

namespace isochore::calc {

/// Ids of "wires" in assets/parts/kit.json.
[[nodiscard]] std::vector<std::string> wire_ids();

/// Wire to bring: of each kind in "wires" with its cross-section, or in one line where only "wire" is told.
/// Sets the lengths in `counts`.
[[nodiscard]] std::vector<planning::KitLine> wire_lines(Inputs& job, planning::KitCounts& counts);

/// Names the line by the cross-section and the stud of the wire that it ends; an unknown wire has none.
void name_by_wire(planning::KitLine& line, std::string const& wire);

} // namespace isochore::calc
