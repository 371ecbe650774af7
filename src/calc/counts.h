#pragma once
#include "calc/inputs.h"

namespace isochore::calc {

/// A whole number as 4, "4", "4 pcs" or "2 turns", within bounds. Faults are kept in `in`; the least is then
/// given.
[[nodiscard]] int read_count(Inputs& in, std::string_view name, int least, int most);
[[nodiscard]] int read_count_or(Inputs& in, std::string_view name, int least, int most, int otherwise);

} // namespace isochore::calc
