#include "electrical/noise_resistor.h"
#include "quantity/amount.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <numbers>

namespace isochore::electrical {
namespace {

using Code = Error::Code;
constexpr double infinity = std::numeric_limits<double>::infinity();

/// R such that R in parallel with `input_ohm` is `wanted`; infinity where even no resistor stays below it.
double resistor_for(double wanted, double input_ohm)
{
    return wanted >= input_ohm ? infinity : wanted * input_ohm / (input_ohm - wanted);
}

double turn_off_log(NoiseResistorCase const& c)
{
    return std::log(c.dc_max_v / c.drop_out_v);
}

std::string volts(double v)
{
    return show_number(v, 4) + " V";
}

} // namespace

bool Constraint::met_by(double ohm) const
{
    return bound == Bound::minimum ? ohm >= limit_ohm : ohm <= limit_ohm;
}

double in_parallel(double ohm, double input_ohm)
{
    return ohm * input_ohm / (ohm + input_ohm);
}

double coupled_current_a(double volt, double frequency_hz, double capacitance_f)
{
    return volt * 2.0 * std::numbers::pi * frequency_hz * capacitance_f;
}

Result<void> check_case(NoiseResistorCase const& c, std::string_view where)
{
    std::string const place(where);
    auto const refuse = [&](char const* name, std::string detail) {
        return fail(Code::out_of_range, place + "." + name, std::move(detail));
    };
    if (!(c.dc_min_v > 0.0))
        return refuse("dc_min", "the lowest supply voltage must be above zero");
    if (c.dc_min_v > c.dc_max_v)
        return refuse("dc_min",
                      fmt::format("{} is above dc_max {}: the two look swapped, enter them the other way "
                                  "round",
                                  volts(c.dc_min_v), volts(c.dc_max_v)));
    if (!(c.input_ohm > 0.0))
        return refuse("input_resistance", "must be above zero: take it from the unit's data sheet");
    if (!(c.drop_out_v > 0.0))
        return refuse("drop_out", "must be above zero: take it from the unit's data sheet");
    if (c.drop_out_v >= c.dc_min_v)
        return refuse("drop_out",
                      fmt::format("{} is not below the lowest supply {}: the input would never turn on "
                                  "there; check which supply the input is made for",
                                  volts(c.drop_out_v), volts(c.dc_min_v)));
    if (!(c.derating > 0.0) || c.derating > 1.0)
        return refuse("derating", "must be above 0 and at most 100 %");
    if (c.tolerance < 0.0 || c.tolerance >= 0.5)
        return refuse("tolerance", "must be 0 to 50 %");
    if (!(c.noise_share > 0.0) || c.noise_share > 1.0)
        return refuse("noise_share", "must be above 0 and at most 100 % of the drop-out");
    return {};
}

double value_at(NoiseResistorCase const& c, std::string_view name, double ohm)
{
    double const both = in_parallel(ohm, c.input_ohm);
    if (name == "noise")
        return c.noise_a * both;
    if (name == "wetting")
        return c.dc_min_v / ohm;
    if (name == "delay")
        return both * c.cable_f * turn_off_log(c);
    if (name == "breaking")
        return c.dc_max_v / both;
    return c.dc_max_v * c.dc_max_v / ohm; // heat
}

ResistorWindow resistor_window(NoiseResistorCase const& c, double power_w)
{
    ResistorWindow w;
    double const allowed_w = power_w * c.derating;
    w.constraints.push_back({"heat", Bound::minimum, c.dc_max_v * c.dc_max_v / allowed_w, allowed_w, "W"});
    if (c.breaking_a) {
        // The contact breaks the input's current too; what is left is for the resistor.
        double const left_a = *c.breaking_a - c.dc_max_v / c.input_ohm;
        w.constraints.push_back(
            {"breaking", Bound::minimum, left_a > 0.0 ? c.dc_max_v / left_a : infinity, *c.breaking_a, "A"});
    }
    if (c.noise_a > 0.0) {
        double const allowed_v = c.noise_share * c.drop_out_v;
        w.constraints.push_back(
            {"noise", Bound::maximum, resistor_for(allowed_v / c.noise_a, c.input_ohm), allowed_v, "V"});
    }
    if (c.wetting_a && *c.wetting_a > 0.0)
        w.constraints.push_back({"wetting", Bound::maximum, c.dc_min_v / *c.wetting_a, *c.wetting_a, "A"});
    if (c.max_delay_s && c.cable_f > 0.0)
        w.constraints.push_back({"delay", Bound::maximum,
                                 resistor_for(*c.max_delay_s / (c.cable_f * turn_off_log(c)), c.input_ohm),
                                 *c.max_delay_s, "s"});
    w.high_ohm = infinity;
    for (std::size_t i = 0; i < w.constraints.size(); ++i) {
        Constraint const& k = w.constraints[i];
        if (k.bound == Bound::minimum && k.limit_ohm > w.low_ohm) {
            w.low_ohm = k.limit_ohm;
            w.lower = i;
        }
        if (k.bound == Bound::maximum && k.limit_ohm < w.high_ohm) {
            w.high_ohm = k.limit_ohm;
            w.upper = i;
        }
    }
    return w;
}

namespace {

/// Smallest common rating whose derated power carries `watt`; 0 when none does.
double rating_for(double watt, double derating)
{
    for (double rating : common_power_ratings_w())
        if (rating * derating >= watt)
            return rating;
    return 0.0;
}

} // namespace

std::optional<ChosenResistor> choose_resistor(NoiseResistorCase const& c)
{
    double const largest = common_power_ratings_w().back();
    ResistorWindow const w = resistor_window(c, c.power_w.value_or(largest));
    // Beyond 10 Mohm a resistor does nothing against noise; it also bounds a window open at the top.
    auto const candidates = preferred_values(c.series, w.low_ohm, std::min(w.high_ohm, 1e7));
    if (candidates.empty())
        return std::nullopt;
    double const middle = std::sqrt(w.low_ohm * std::min(w.high_ohm, 1e7));
    auto const off_middle = [&](double r) { return std::fabs(std::log(r / middle)); };
    double chosen = *std::min_element(candidates.begin(), candidates.end(),
                                      [&](double a, double b) { return off_middle(a) < off_middle(b); });
    for (double r : candidates)
        if (r * (1.0 - c.tolerance) >= w.low_ohm && r * (1.0 + c.tolerance) <= w.high_ohm &&
            (std::isfinite(w.high_ohm) || r <= c.input_ohm))
            chosen = std::max(chosen, r);
    ChosenResistor out;
    out.ohm = chosen;
    out.candidates = candidates;
    out.power_w = value_at(c, "heat", chosen);
    out.power_rating_w = c.power_w ? *c.power_w : rating_for(out.power_w, c.derating);
    out.delay_s = value_at(c, "delay", chosen);
    return out;
}

} // namespace isochore::electrical
