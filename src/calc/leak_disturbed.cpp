#include "calc/leak_disturbed.h"
#include "calc/usual.h"
#include "gas/state.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

constexpr char const* here = "leak.decay";

} // namespace

Settling settling(gas::Species species, double temperature_k, double pressure_pa, double time_constant_s)
{
    Settling s{species, time_constant_s, 0.0};
    constexpr double apart_k = 0.1;
    auto const cold = gas::density_kg_m3(species, temperature_k - apart_k / 2.0, pressure_pa),
               warm = gas::density_kg_m3(species, temperature_k + apart_k / 2.0, pressure_pa);
    if (cold && warm)
        s.kelvin_density = (*cold - *warm) / apart_k;
    return s;
}

std::optional<Disturbance> temperature_step(std::vector<TimedReading> const& series)
{
    auto const t = column_of(series, 1);
    if (t.size() < 4)
        return std::nullopt;
    std::vector<double> steps;
    for (std::size_t i = 1; i < t.size(); ++i)
        steps.push_back(std::fabs(t[i] - t[i - 1]));
    auto const largest = std::max_element(steps.begin(), steps.end());
    double const usual =
        std::fmax(middle_of(steps), usual_si(here, "step_floor", Dimension::temperature_difference));
    if (*largest < usual_si(here, "step_times", Dimension::count) * usual)
        return std::nullopt;
    auto const at = static_cast<std::size_t>(largest - steps.begin());
    return Disturbance{
        "temperature_step",
        fmt::format("temperature jumps by {:.2f} K between {:.0f} s and {:.0f} s, the others by "
                    "about {:.2f} K: sun or draught on the pipe, and the gas may not have followed",
                    *largest, series[at].time_s, series[at + 1].time_s, usual),
        *largest};
}

Disturbance rising_density(double rise_kg_m3, double expanded_kg_m3, double hold_s, Settling const& s)
{
    double const lag = s.kelvin_density > 0.0 ? rise_kg_m3 / s.kelvin_density : 0.0;
    return {
        "rising",
        fmt::format("density rises by {:.3g} ± {:.2g} kg/m3 in {:.0f} min, as gas that warms {:.2g} K more "
                    "than the thermometer shows would do: gas does not leak in, so this is no leak figure",
                    rise_kg_m3, expanded_kg_m3, hold_s / 60.0, lag),
        lag};
}

std::vector<double> followed_temperatures(std::vector<TimedReading> const& series, double time_constant_s)
{
    std::vector<double> followed{series.front().values[1]};
    for (std::size_t i = 1; i < series.size(); ++i) {
        // The thermometer runs straight between two readings; the gas answers it as a first-order lag does.
        double const dt = series[i].time_s - series[i - 1].time_s, before = series[i - 1].values[1];
        double const behind = (series[i].values[1] - before) / dt * time_constant_s;
        followed.push_back(series[i].values[1] - behind +
                           (followed.back() - before + behind) * std::exp(-dt / time_constant_s));
    }
    return followed;
}

Check disturbed_check(Disturbance const& seen, double feigned_kg_m3, Settling const& s)
{
    double const agree_k = s.kelvin_density > 0.0 ? feigned_kg_m3 / s.kelvin_density : 0.0;
    // What is apart dies away by the factor e in a time constant.
    double const wait_s =
        s.time_constant_s * (agree_k > 0.0 ? std::fmax(std::log(seen.lag_k / agree_k), 1.0) : 1.0);
    return {seen.name, Verdict::undecided, seen.text,
            fmt::format(
                "shade the pipe, check that its valves are shut, wait about {:.0f} min until gas and pipe "
                "agree within {:.2g} K, then begin a new series",
                std::ceil(wait_s / 60.0), agree_k),
            ""};
}

} // namespace isochore::calc
