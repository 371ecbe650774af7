#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// timing.record: the times of an operation from a COMTRADE record. "path" and, for times, "roles":
/// {"trip": channel, "contacts": [channel, …], "currents": [channel, …]}; a channel is its name or its number
/// as text, "D1" and "A3" count digital and analogue ones. Without roles the answer lists the channels.
[[nodiscard]] Result<Answer> timing_record(Inputs& in);

} // namespace isochore::calc
