#include "calc/input_kinds.h"
#include "calc/registry.h"

namespace isochore::calc {

std::span<Calculation const> input_calculations()
{
    static constexpr Calculation table[] = {
        {"input.resistor", "resistor across a trip input fed from a separate output", resistor_calc},
        {"input.supervision", "trip-circuit supervision with the trip input in parallel", supervision_calc},
        {"input.wiring", "how trip and position reach the unit, and why", wiring_calc},
    };
    return table;
}

} // namespace isochore::calc
