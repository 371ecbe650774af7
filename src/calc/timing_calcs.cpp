#include "calc/registry.h"
#include "calc/timing_limits.h"

namespace isochore::calc {

std::span<Calculation const> timing_calculations()
{
    static constexpr Calculation table[] = {
        {"timing.limits", "rated interrupting time and spreads from cycles to seconds", timing_limits},
    };
    return table;
}

} // namespace isochore::calc
