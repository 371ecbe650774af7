#include "calc/fitting_kinds.h"
#include "calc/registry.h"

namespace isochore::calc {

std::span<Calculation const> fitting_calculations()
{
    static constexpr Calculation table[] = {
        {"fitting.chain", "joints, volume, reach and mass from the gas port to the sensor", chain_calc},
        {"fitting.identify", "which thread it is, from diameter, pitch and taper", identify_calc},
        {"fitting.parts", "the built-in fittings and threads", parts_calc},
    };
    return table;
}

} // namespace isochore::calc
