#pragma once
#include <optional>
#include <span>
#include <string_view>

namespace isochore {

/// What a number measures. Two dimensions may share SI units and still not mix (a stress is not a gas
/// pressure, a temperature difference is not a temperature).
enum class Dimension {
    fraction,               ///< 1; shown as %, ppmv
    temperature,            ///< K, a point on the scale
    temperature_difference, ///< K, an interval
    pressure,               ///< Pa; a point: absolute or gauge must be said
    pressure_difference,    ///< Pa, an interval
    stress,                 ///< Pa
    density,                ///< kg/m3
    mass,                   ///< kg
    volume,                 ///< m3
    length,                 ///< m
    area,                   ///< m2
    time,                   ///< s
    frequency,              ///< Hz
    speed,                  ///< m/s
    acceleration,           ///< m/s2
    force,                  ///< N
    torque,                 ///< N m
    current,                ///< A
    voltage,                ///< V
    resistance,             ///< ohm
    power,                  ///< W
    apparent_power,         ///< VA
    energy,                 ///< J
    capacitance,            ///< F
    capacitance_per_length, ///< F/m
    mass_flow,              ///< kg/s
    throughput,             ///< Pa m3/s, a gas leak at a stated temperature
    fraction_rate,          ///< 1/s; shown as %/yr
    volume_flow,            ///< m3/s
    cycles,                 ///< periods of the power frequency
    ratio,                  ///< 1; a CT ratio "1200:5" is read elsewhere
    angle,                  ///< rad
    co2e,                   ///< kg of CO2 equivalent
    count,                  ///< 1; whole things
};

/// A named unit: value_si = value * factor + offset.
struct Unit {
    std::string_view name;
    Dimension dimension;
    double factor;
    double offset = 0.0;
    std::string_view shown = {}; ///< typographic form for screens and paper ("°C"); empty: the name itself
    [[nodiscard]] constexpr double to_si(double value) const { return value * factor + offset; }
    [[nodiscard]] constexpr double from_si(double si) const { return (si - offset) / factor; }
    [[nodiscard]] constexpr std::string_view label() const { return shown.empty() ? name : shown; }
};

/// All units the program reads and writes, in one table. Factors: NIST SP 811 appendix B.8, SI Brochure.
[[nodiscard]] std::span<Unit const> all_units();

/// The unit of that name in that dimension; nullptr where there is none. Names are case-sensitive; "°C",
/// "Ω" and "µ" spellings are accepted.
[[nodiscard]] Unit const* find_unit(std::string_view name, Dimension dimension);

/// The SI unit in which values of a dimension are carried.
[[nodiscard]] Unit const& si_unit(Dimension dimension);

[[nodiscard]] std::string_view dimension_name(Dimension dimension);
[[nodiscard]] std::optional<Dimension> dimension_by_name(std::string_view name);

} // namespace isochore
