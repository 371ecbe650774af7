#include "session/slip.h"
#include "calc/series.h"
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

/// Slips of hand and of unit have their own ratios; near one of them the question names it.
std::string factor_question(double ratio)
{
    struct Slip {
        double ratio;
        char const* text;
    };
    static constexpr Slip slips[] = {
        {10.0, "Ten times what is expected: is the decimal point right?"},
        {0.1, "A tenth of what is expected: is the decimal point right?"},
        {100.0, "A hundred times what is expected: is the unit right?"},
        {0.01, "A hundredth of what is expected: is the unit right?"},
        {1000.0, "A thousand times what is expected: is the unit right?"},
        {0.001, "A thousandth of what is expected: is the unit right?"},
        {14.5038, "14.5 times what is expected: was it read in psi and entered as bar?"},
        {1.0 / 14.5038, "A 14.5th of what is expected: was it read in bar and entered as psi?"},
        {6.894757, "6.9 times what is expected: psi against kPa?"},
        {1.0 / 6.894757, "A 6.9th of what is expected: kPa against psi?"},
    };
    for (auto const& slip : slips)
        if (std::fabs(ratio / slip.ratio - 1.0) < 0.12)
            return slip.text;
    return {};
}

std::string temperature_question(double read_k, double expected_k)
{
    constexpr double closeness_k = 1.5;
    if (calc::temperature_slip(read_k, expected_k, closeness_k).empty())
        return {};
    return read_k > expected_k
               ? "1.8 times and 32 above what is expected: was it read in degF and entered as degC?"
               : "32 below and a 1.8th of what is expected: was it read in degC and entered as degF?";
}

std::string reference_question(Amount const& reading, double expected_si, double air_pa)
{
    constexpr double closeness = 0.1;
    double const apart = (reading.si - expected_si) / air_pa;
    if (reading.reference == PressureReference::gauge && std::fabs(apart - 1.0) < closeness)
        return "One atmosphere above what is expected: was an absolute reading entered as gauge?";
    if (reading.reference == PressureReference::absolute && std::fabs(apart + 1.0) < closeness)
        return "One atmosphere below what is expected: was a gauge reading entered as absolute?";
    return {};
}

/// Units that gauges, thermometers, scales and rules at the same place may have.
std::span<char const* const> units_mixed_up(Dimension dimension)
{
    static constexpr std::array pressure{"psi", "bar", "kPa", "MPa"};
    static constexpr std::array temperature{"degF", "degC", "K"};
    static constexpr std::array mass{"lb", "kg", "g"};
    static constexpr std::array length{"mm", "in", "ft", "m"};
    switch (dimension) {
    case Dimension::pressure:
        return pressure;
    case Dimension::temperature:
        return temperature;
    case Dimension::mass:
        return mass;
    case Dimension::length:
        return length;
    default:
        return {};
    }
}

/// A reading as it may have been meant.
struct Meant {
    double value;
    Unit const* unit;
    PressureReference reference;

    [[nodiscard]] double absolute(double air_pa) const
    {
        return unit->to_si(value) + (reference == PressureReference::gauge ? air_pa : 0.0);
    }
    [[nodiscard]] std::string as_typed() const
    {
        char const* const ending = reference == PressureReference::gauge      ? " g"
                                   : reference == PressureReference::absolute ? " abs"
                                                                              : "";
        return fmt::format("{:.6g} {}{}", value, unit->label(), ending);
    }
    /// The same in the unit and against the reference of the reading.
    [[nodiscard]] std::string in(Amount const& reading, double air_pa) const
    {
        double const shift = reading.reference == PressureReference::gauge ? air_pa : 0.0;
        return show_amount(absolute(air_pa) - shift, *reading.unit, 3, reading.reference);
    }
};

} // namespace

std::string slip_hint(Amount const& reading, double air_pa, std::function<bool(double)> const& usual)
{
    std::string hint;
    for (char const* name : units_mixed_up(reading.dimension)) {
        Meant const meant{reading.value, find_unit(name, reading.dimension), reading.reference};
        if (hint.empty() && meant.unit && meant.unit != reading.unit && usual(meant.absolute(air_pa)))
            hint = fmt::format("Looks like “{}” typed as “{}”: {} would be {}.", meant.unit->label(),
                               reading.unit->label(), meant.as_typed(), meant.in(reading, air_pa));
    }
    if (reading.reference != PressureReference::none) {
        bool const gauge = reading.reference == PressureReference::gauge;
        Meant const meant{reading.value, reading.unit,
                          gauge ? PressureReference::absolute : PressureReference::gauge};
        if (hint.empty() && usual(meant.absolute(air_pa)))
            hint = gauge ? fmt::format("Looks like an absolute reading typed as gauge: {} would be {}.",
                                       meant.as_typed(), meant.in(reading, air_pa))
                         : fmt::format("Looks like a gauge reading typed as absolute: {} would be {}.",
                                       meant.as_typed(), meant.in(reading, air_pa));
    }
    for (double const factor : {0.1, 10.0}) {
        Meant const meant{reading.value * factor, reading.unit, reading.reference};
        std::string const point = meant.as_typed();
        // A point and a unit that come to the same reading are one slip, not two.
        if (usual(meant.absolute(air_pa)) && hint.find(meant.in(reading, air_pa)) == std::string::npos)
            return hint + (hint.empty()
                               ? fmt::format("Looks like a misplaced point: {} would be usual.", point)
                               : fmt::format(" Or is the point misplaced: {}?", point));
    }
    return hint;
}

std::string slip_question(Amount const& reading, double expected_si, double air_pa)
{
    if (reading.dimension == Dimension::temperature)
        return temperature_question(reading.si, expected_si);
    if (expected_si != 0.0)
        if (std::string question = factor_question(reading.si / expected_si); !question.empty())
            return question;
    return reading.dimension == Dimension::pressure ? reference_question(reading, expected_si, air_pa)
                                                    : std::string();
}

} // namespace isochore::session
