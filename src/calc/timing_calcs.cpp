#include "calc/registry.h"
#include "calc/timing_limits.h"
#include "calc/timing_record.h"

namespace isochore::calc {

std::span<Calculation const> timing_calculations()
{
    static constexpr Calculation table[] = {
        {"timing.limits", "rated interrupting time and spreads from cycles to seconds", timing_limits},
        {"timing.record", "times of an operation from a COMTRADE record", timing_record},
    };
    return table;
}

} // namespace isochore::calc
