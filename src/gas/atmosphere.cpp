#include "gas/atmosphere.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::gas {

Result<double> standard_atmosphere_pressure(double altitude_m)
{
    if (!(altitude_m >= -500.0 && altitude_m <= 11000.0))
        return fail(
            Error::Code::out_of_range, "altitude",
            fmt::format("{:.0f} m is outside -500 m to 11000 m, where the standard atmosphere is used",
                        altitude_m));
    double const temperature = 288.15 - 0.0065 * altitude_m;
    return standard_pressure_pa * std::pow(temperature / 288.15, 5.25588);
}

} // namespace isochore::gas
