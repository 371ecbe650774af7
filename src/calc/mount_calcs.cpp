#include "calc/mount_kinds.h"
#include "calc/registry.h"

namespace isochore::calc {

std::span<Calculation const> mount_calculations()
{
    static constexpr Calculation table[] = {
        {"mount.fasteners", "loads, utilisation and torque of the unit's fasteners under shock",
         fasteners_calc},
        {"mount.clearance", "depth left to the shut door, worst case and statistical", clearance_calc},
        {"mount.sightline", "share of the display seen through the cabinet's window", sightline_calc},
        {"mount.cables", "wire lengths with slack, and the total", cables_calc},
    };
    return table;
}

} // namespace isochore::calc
