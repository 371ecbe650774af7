#include "session/slip.h"
#include "calc/series.h"
#include <cmath>

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

} // namespace

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
