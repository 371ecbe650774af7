#include "gas/isochore_line.h"
#include "gas/saturation.h"
#include "gas/state.h"
#include <algorithm>

namespace isochore::gas {

std::vector<LinePoint> isochore_line(Species species, double density, double from_k, double to_k, int points)
{
    std::vector<LinePoint> line;
    auto const& data = equation(species).data();
    from_k = std::max(from_k, data.least_temperature_k);
    to_k = std::min(to_k, data.greatest_temperature_k);
    if (!(from_k < to_k) || points < 2)
        return line;
    if (auto const dew = saturation_at_density(species, density); dew && dew->temperature_k > from_k) {
        if (dew->temperature_k >= to_k)
            return line;
        from_k = dew->temperature_k;
        line.push_back({dew->temperature_k, dew->pressure_pa});
    }
    for (int i = line.empty() ? 0 : 1; i < points; ++i) {
        double const t = from_k + (to_k - from_k) * i / (points - 1);
        if (auto const p = pressure_pa(species, t, density))
            line.push_back({t, *p});
    }
    return line;
}

std::vector<LinePoint> dew_line(Species species, double from_k, double to_k, int points)
{
    std::vector<LinePoint> line;
    auto const& data = equation(species).data();
    from_k = std::max(from_k, data.least_temperature_k);
    to_k = std::min(to_k, data.critical_temperature_k * (1.0 - 1e-5));
    if (!data.pure || !(from_k < to_k) || points < 2)
        return line;
    for (int i = 0; i < points; ++i)
        if (auto const s = saturation(species, from_k + (to_k - from_k) * i / (points - 1)))
            line.push_back({s->temperature_k, s->pressure_pa});
    return line;
}

} // namespace isochore::gas
