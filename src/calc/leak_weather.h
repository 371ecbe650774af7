#pragma once
#include "calc/answer.h"
#include "calc/series.h"

namespace isochore::calc {

/// A jump of temperature between two readings, far larger than the others: sun on the pipe, a door opened.
/// Adds the check "temperature_step" where there is one; readings are pressure and temperature.
void check_temperature_step(Answer& answer, std::vector<TimedReading> const& series);

} // namespace isochore::calc
