#pragma once
#include "quantity/unit.h"
#include "json/value.h"
#include <string>

namespace isochore::calc {

/// A value as a person reads it: the unit of the dimension that leaves one to four digits before the
/// point ("18 kΩ", "7.8 mA", "0.12 ms"), with at most `digits` significant
/// figures and no trailing zeros.
[[nodiscard]] std::string show_scaled(double si, Dimension dimension, int digits = 3);

/// {"value":…,"unit":…} for facts that carry numbers.
[[nodiscard]] Json figure_fact(double value, std::string_view unit);

} // namespace isochore::calc
