#include "quantity/unit.h"
#include <array>
#include <numbers>
#include <string>

namespace isochore {
namespace {

using D = Dimension;
constexpr double pound = 0.45359237;    // NIST SP 811, exact
constexpr double inch = 0.0254;         // exact
constexpr double foot = 0.3048;         // exact
constexpr double gravity = 9.80665;     // exact
constexpr double atmosphere = 101325.0; // exact
constexpr double psi = pound * gravity / (inch * inch);
constexpr double torr = atmosphere / 760.0;
constexpr double year = 365.25 * 86400.0; // Julian year, as in leak rates "per year"

// The first unit of a dimension is the one values are carried in.
constexpr Unit table[] = {
    {"1", D::fraction, 1.0, 0.0, {}},
    {"%", D::fraction, 1e-2, 0.0, {}},
    {"% vol", D::fraction, 1e-2, 0.0, {}},
    {"ppmv", D::fraction, 1e-6, 0.0, {}},
    {"ul/l", D::fraction, 1e-6, 0.0, "µl/l"},
    {"K", D::temperature, 1.0, 0.0, {}},
    {"degC", D::temperature, 1.0, 273.15, "°C"},
    {"degF", D::temperature, 5.0 / 9.0, 459.67 * 5.0 / 9.0, "°F"},
    {"degR", D::temperature, 5.0 / 9.0, 0.0, "°R"},
    {"K", D::temperature_difference, 1.0, 0.0, {}},
    {"degC", D::temperature_difference, 1.0, 0.0, "°C"},
    {"degF", D::temperature_difference, 5.0 / 9.0, 0.0, "°F"},
#define ISOCHORE_PRESSURES(dim)                                                                              \
    {"Pa", dim, 1.0, 0.0, {}}, {"hPa", dim, 1e2, 0.0, {}}, {"kPa", dim, 1e3, 0.0, {}},                       \
        {"MPa", dim, 1e6, 0.0, {}}, {"mbar", dim, 1e2, 0.0, {}}, {"bar", dim, 1e5, 0.0, {}},                 \
        {"psi", dim, psi, 0.0, {}}, {"atm", dim, atmosphere, 0.0, {}}, {"torr", dim, torr, 0.0, {}},         \
        {"mmHg", dim, 133.3224, 0.0, {}}, {"inHg", dim, 3386.389, 0.0, {}},                                  \
        {"inH2O", dim, 249.0889, 0.0, {}}, {"kgf/cm2", dim, gravity * 1e4, 0.0, "kgf/cm²"},                  \
        {"micron", dim, 0.1333224, 0.0, {}},                                                                 \
    {                                                                                                        \
        "ubar", dim, 0.1, 0.0, "µbar"                                                                       \
    }
    ISOCHORE_PRESSURES(D::pressure),
    ISOCHORE_PRESSURES(D::pressure_difference),
#undef ISOCHORE_PRESSURES
    {"Pa", D::stress, 1.0, 0.0, {}},
    {"MPa", D::stress, 1e6, 0.0, {}},
    {"psi", D::stress, psi, 0.0, {}},
    {"ksi", D::stress, psi * 1e3, 0.0, {}},
    {"kg/m3", D::density, 1.0, 0.0, "kg/m³"},
    {"g/l", D::density, 1.0, 0.0, {}},
    {"g/cm3", D::density, 1e3, 0.0, "g/cm³"},
    {"lb/ft3", D::density, pound / (foot * foot * foot), 0.0, "lb/ft³"},
    {"kg", D::mass, 1.0, 0.0, {}},
    {"g", D::mass, 1e-3, 0.0, {}},
    {"mg", D::mass, 1e-6, 0.0, {}},
    {"t", D::mass, 1e3, 0.0, {}},
    {"lb", D::mass, pound, 0.0, {}},
    {"oz", D::mass, pound / 16.0, 0.0, {}},
    {"m3", D::volume, 1.0, 0.0, "m³"},
    {"l", D::volume, 1e-3, 0.0, {}},
    {"ml", D::volume, 1e-6, 0.0, {}},
    {"cm3", D::volume, 1e-6, 0.0, "cm³"},
    {"mm3", D::volume, 1e-9, 0.0, "mm³"},
    {"ft3", D::volume, foot* foot* foot, 0.0, "ft³"},
    {"in3", D::volume, inch* inch* inch, 0.0, "in³"},
    {"m", D::length, 1.0, 0.0, {}},
    {"km", D::length, 1e3, 0.0, {}},
    {"cm", D::length, 1e-2, 0.0, {}},
    {"mm", D::length, 1e-3, 0.0, {}},
    {"um", D::length, 1e-6, 0.0, "µm"},
    {"in", D::length, inch, 0.0, {}},
    {"ft", D::length, foot, 0.0, {}},
    {"m2", D::area, 1.0, 0.0, "m²"},
    {"mm2", D::area, 1e-6, 0.0, "mm²"},
    {"in2", D::area, inch* inch, 0.0, "in²"},
    {"s", D::time, 1.0, 0.0, {}},
    {"ms", D::time, 1e-3, 0.0, {}},
    {"us", D::time, 1e-6, 0.0, "µs"},
    {"min", D::time, 60.0, 0.0, {}},
    {"h", D::time, 3600.0, 0.0, {}},
    {"d", D::time, 86400.0, 0.0, {}},
    {"yr", D::time, year, 0.0, {}},
    {"Hz", D::frequency, 1.0, 0.0, {}},
    {"kHz", D::frequency, 1e3, 0.0, {}},
    {"m/s", D::speed, 1.0, 0.0, {}},
    {"mm/s", D::speed, 1e-3, 0.0, {}},
    {"m/s2", D::acceleration, 1.0, 0.0, "m/s²"},
    {"g", D::acceleration, gravity, 0.0, {}},
    {"N", D::force, 1.0, 0.0, {}},
    {"kN", D::force, 1e3, 0.0, {}},
    {"lbf", D::force, pound* gravity, 0.0, {}},
    {"N m", D::torque, 1.0, 0.0, "N·m"},
    {"lbf in", D::torque, pound* gravity* inch, 0.0, "lbf·in"},
    {"lbf ft", D::torque, pound* gravity* foot, 0.0, "lbf·ft"},
    {"A", D::current, 1.0, 0.0, {}},
    {"mA", D::current, 1e-3, 0.0, {}},
    {"uA", D::current, 1e-6, 0.0, "µA"},
    {"kA", D::current, 1e3, 0.0, {}},
    {"V", D::voltage, 1.0, 0.0, {}},
    {"mV", D::voltage, 1e-3, 0.0, {}},
    {"kV", D::voltage, 1e3, 0.0, {}},
    {"ohm", D::resistance, 1.0, 0.0, "Ω"},
    {"mohm", D::resistance, 1e-3, 0.0, "mΩ"},
    {"uohm", D::resistance, 1e-6, 0.0, "µΩ"},
    {"kohm", D::resistance, 1e3, 0.0, "kΩ"},
    {"Mohm", D::resistance, 1e6, 0.0, "MΩ"},
    {"W", D::power, 1.0, 0.0, {}},
    {"mW", D::power, 1e-3, 0.0, {}},
    {"kW", D::power, 1e3, 0.0, {}},
    {"VA", D::apparent_power, 1.0, 0.0, {}},
    {"J", D::energy, 1.0, 0.0, {}},
    {"mJ", D::energy, 1e-3, 0.0, {}},
    {"F", D::capacitance, 1.0, 0.0, {}},
    {"uF", D::capacitance, 1e-6, 0.0, "µF"},
    {"nF", D::capacitance, 1e-9, 0.0, {}},
    {"pF", D::capacitance, 1e-12, 0.0, {}},
    {"F/m", D::capacitance_per_length, 1.0, 0.0, {}},
    {"nF/m", D::capacitance_per_length, 1e-9, 0.0, {}},
    {"pF/m", D::capacitance_per_length, 1e-12, 0.0, {}},
    {"nF/km", D::capacitance_per_length, 1e-12, 0.0, {}},
    {"kg/s", D::mass_flow, 1.0, 0.0, {}},
    {"kg/yr", D::mass_flow, 1.0 / year, 0.0, {}},
    {"g/yr", D::mass_flow, 1e-3 / year, 0.0, {}},
    {"g/h", D::mass_flow, 1e-3 / 3600.0, 0.0, {}},
    {"g/s", D::mass_flow, 1e-3, 0.0, {}},
    {"Pa m3/s", D::throughput, 1.0, 0.0, "Pa·m³/s"},
    {"mbar l/s", D::throughput, 0.1, 0.0, "mbar·l/s"},
    {"1/s", D::fraction_rate, 1.0, 0.0, {}},
    {"%/yr", D::fraction_rate, 1e-2 / year, 0.0, {}},
    {"%/min", D::fraction_rate, 1e-2 / 60.0, 0.0, {}},
    {"m3/s", D::volume_flow, 1.0, 0.0, "m³/s"},
    {"l/min", D::volume_flow, 1e-3 / 60.0, 0.0, {}},
    {"l/h", D::volume_flow, 1e-3 / 3600.0, 0.0, {}},
    {"cycles", D::cycles, 1.0, 0.0, {}},
    {"cycle", D::cycles, 1.0, 0.0, {}},
    {"1", D::ratio, 1.0, 0.0, {}},
    {"rad", D::angle, 1.0, 0.0, {}},
    {"deg", D::angle, std::numbers::pi / 180.0, 0.0, "°"},
    {"kg CO2e", D::co2e, 1.0, 0.0, "kg CO₂e"},
    {"t CO2e", D::co2e, 1e3, 0.0, "t CO₂e"},
    {"1", D::count, 1.0, 0.0, {}},
    {"pcs", D::count, 1.0, 0.0, {}},
    {"turns", D::count, 1.0, 0.0, {}},
};

constexpr std::array<std::string_view, 34> names = {"fraction",
                                                    "temperature",
                                                    "temperature_difference",
                                                    "pressure",
                                                    "pressure_difference",
                                                    "stress",
                                                    "density",
                                                    "mass",
                                                    "volume",
                                                    "length",
                                                    "area",
                                                    "time",
                                                    "frequency",
                                                    "speed",
                                                    "acceleration",
                                                    "force",
                                                    "torque",
                                                    "current",
                                                    "voltage",
                                                    "resistance",
                                                    "power",
                                                    "apparent_power",
                                                    "energy",
                                                    "capacitance",
                                                    "capacitance_per_length",
                                                    "mass_flow",
                                                    "throughput",
                                                    "fraction_rate",
                                                    "volume_flow",
                                                    "cycles",
                                                    "ratio",
                                                    "angle",
                                                    "co2e",
                                                    "count"};
static_assert(names.size() == static_cast<std::size_t>(Dimension::count) + 1);

struct Spelling {
    std::string_view from, to;
};
constexpr Spelling spellings[] = {{"°C", "degC"}, {"°F", "degF"}, {"°R", "degR"}, {"Ω", "ohm"},
                                  {"Ω", "ohm"},   {"µ", "u"},     {"μ", "u"},     {"²", "2"},
                                  {"³", "3"},     {"·", " "},     {"₂", "2"},     {"°", "deg"}};

std::string plain_spelling(std::string_view name)
{
    std::string text(name);
    for (auto const& s : spellings)
        for (std::size_t at = text.find(s.from); at != std::string::npos; at = text.find(s.from, at))
            text.replace(at, s.from.size(), s.to);
    return text;
}

} // namespace

std::span<Unit const> all_units()
{
    return table;
}

Unit const* find_unit(std::string_view name, Dimension dimension)
{
    for (Unit const& unit : table)
        if (unit.dimension == dimension && unit.name == name)
            return &unit;
    std::string const plain = plain_spelling(name);
    if (plain != name)
        return find_unit(plain, dimension);
    return nullptr;
}

Unit const& si_unit(Dimension dimension)
{
    for (Unit const& unit : table)
        if (unit.dimension == dimension)
            return unit;
    return table[0]; // not reached: the test walks every dimension
}

std::string_view dimension_name(Dimension dimension)
{
    return names[static_cast<std::size_t>(dimension)];
}

std::optional<Dimension> dimension_by_name(std::string_view name)
{
    for (std::size_t i = 0; i < names.size(); ++i)
        if (names[i] == name)
            return static_cast<Dimension>(i);
    return std::nullopt;
}

} // namespace isochore
