#include "electrical/load_check.h"
#include <algorithm>
#include <cmath>
#include <numbers>

namespace isochore::electrical {

double Wiring::scale() const
{
    return ratio / turns / (delta ? std::numbers::sqrt3 : 1.0);
}

double relative_uncertainty(LoadReading const& r)
{
    double const floor = r.reading_a > 0.0 ? r.u_floor_a / r.reading_a : 0.0;
    return std::sqrt(r.u_primary * r.u_primary + r.u_reading * r.u_reading + r.u_ratio * r.u_ratio +
                     floor * floor);
}

std::vector<Wiring> possible_wirings(std::vector<Tap> const& taps, Wiring const& recorded, int most_turns)
{
    std::vector<Wiring> all;
    for (int turns = 1; turns <= most_turns; ++turns) {
        if (taps.empty())
            all.push_back({recorded.terminals, recorded.ratio, turns, false, 0.0});
        for (Tap const& tap : taps)
            all.push_back({tap.terminals(), tap.ratio(), turns, false, 0.0});
    }
    if (recorded.turns > most_turns)
        all.push_back({recorded.terminals, recorded.ratio, recorded.turns, false, 0.0});
    all.push_back({recorded.terminals, recorded.ratio, recorded.turns, true, 0.0});
    return all;
}

Explanation explain_reading(std::vector<Wiring> wirings, LoadReading const& reading)
{
    double const sigma = std::max(relative_uncertainty(reading), 1e-6);
    double const seen = std::log(reading.primary_a / reading.reading_a);
    constexpr double reach = 30.0;
    double const normal = 1.0 / (sigma * std::sqrt(2.0 * std::numbers::pi));
    double total = 0.0;
    for (Wiring& w : wirings) {
        double const off = (seen - std::log(w.scale())) / sigma;
        w.probability = normal * std::exp(-0.5 * off * off);
        total += w.probability;
    }
    // A reading further off than the reach is something else for certain, so the density never drops to 0.
    double const else_density = 1.0 / (2.0 * std::log(reach));
    total += else_density;
    for (Wiring& w : wirings)
        w.probability /= total;
    std::stable_sort(wirings.begin(), wirings.end(),
                     [](Wiring const& a, Wiring const& b) { return a.probability > b.probability; });
    return {std::move(wirings), else_density / total};
}

} // namespace isochore::electrical
