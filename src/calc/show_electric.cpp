#include "calc/show_electric.h"
#include "quantity/amount.h"
#include <array>
#include <cmath>
#include <span>

namespace isochore::calc {
namespace {

using Names = std::span<std::string_view const>;

// Largest first. Only units that read well on a drawing.
constexpr std::array<std::string_view, 4> ohms{"Mohm", "kohm", "ohm", "mohm"};
constexpr std::array<std::string_view, 4> amps{"kA", "A", "mA", "uA"};
constexpr std::array<std::string_view, 3> volts{"kV", "V", "mV"};
constexpr std::array<std::string_view, 3> watts{"kW", "W", "mW"};
constexpr std::array<std::string_view, 3> times{"s", "ms", "us"};
constexpr std::array<std::string_view, 4> farads{"F", "uF", "nF", "pF"};
constexpr std::array<std::string_view, 3> lengths{"m", "mm", "um"};

Names names_of(Dimension dimension)
{
    switch (dimension) {
    case Dimension::resistance:
        return ohms;
    case Dimension::current:
        return amps;
    case Dimension::voltage:
        return volts;
    case Dimension::power:
        return watts;
    case Dimension::time:
        return times;
    case Dimension::capacitance:
        return farads;
    case Dimension::length:
        return lengths;
    default:
        return {};
    }
}

} // namespace

std::string show_scaled(double si, Dimension dimension, int digits)
{
    Unit const* best = &si_unit(dimension);
    if (si != 0.0)
        for (std::string_view name : names_of(dimension)) {
            Unit const* unit = find_unit(name, dimension);
            if (!unit)
                continue;
            best = unit;
            // Half a last digit below one still rounds up to one ("1.00 kΩ", not "1000 Ω").
            if (std::fabs(unit->from_si(si)) >= 1.0 - 0.5 * std::pow(10.0, -digits))
                break;
        }
    std::string number = show_number(best->from_si(si), digits);
    // "5 W part", not "5.00 W part": these are ratings and limits, not readings.
    if (number.find('.') != std::string::npos && number.find('e') == std::string::npos) {
        number.erase(number.find_last_not_of('0') + 1);
        if (number.ends_with('.'))
            number.pop_back();
    }
    return number + " " + std::string(best->label());
}

Json figure_fact(double value, std::string_view unit)
{
    return Json{{"value", value}, {"unit", std::string(unit)}};
}

} // namespace isochore::calc
