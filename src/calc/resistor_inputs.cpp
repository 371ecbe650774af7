#include "calc/resistor_inputs.h"
#include "calc/usual.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;

constexpr char const* here = "input.resistor";

void refuse_negative(Inputs& from, char const* name, double value)
{
    if (value < 0.0)
        from.refuse(Code::out_of_range, name, "cannot be negative: enter its size");
}

/// Leakage and coupled current, and the capacitance of the cable. Each member of "noise" is optional.
NoiseCurrents read_noise(Inputs& in, double& cable_f)
{
    NoiseCurrents noise;
    Inputs from = in.object("noise");
    noise.leakage_a = from.quantity_or("leakage_current", Dimension::current, 0.0);
    auto const length = from.optional_quantity("cable_length", Dimension::length);
    auto const volt = from.optional_quantity("coupled_voltage", Dimension::voltage);
    refuse_negative(from, "leakage_current", noise.leakage_a);
    refuse_negative(from, "cable_length", length.value_or(0.0));
    refuse_negative(from, "coupled_voltage", volt.value_or(0.0));
    double per_metre = 0.0;
    if (length) {
        per_metre =
            given_or_usual(in, from, here, "noise.capacitance_per_length", Dimension::capacitance_per_length);
        refuse_negative(from, "capacitance_per_length", per_metre);
        cable_f = *length * per_metre;
    } else {
        (void)from.optional_quantity("capacitance_per_length", Dimension::capacitance_per_length);
        in.note("cable length not given: no coupled current and no turn-off delay from the cable");
    }
    if (volt && length) {
        double const hertz = given_or_usual(in, from, here, "noise.frequency", Dimension::frequency);
        if (!(hertz > 0.0))
            from.refuse(Code::out_of_range, "frequency", "must be above zero");
        noise.coupled_a = coupled_current_a(*volt, hertz, cable_f);
    } else {
        (void)from.optional_quantity("frequency", Dimension::frequency);
    }
    from.refuse_unread();
    in.absorb(from);
    return noise;
}

ESeries read_series(Inputs& in)
{
    std::string const series = in.one_of("series", {"E12", "E24", "E96"}, "E24");
    return series == "E12" ? ESeries::e12 : series == "E96" ? ESeries::e96 : ESeries::e24;
}

void check_voltages(Inputs& in, NoiseResistorCase const& c, std::optional<double> nominal,
                    std::optional<double> pick_up)
{
    if (in.error())
        return;
    if (auto const good = check_case(c, "inputs"); !good) {
        std::string const name = good.error().where.substr(std::string("inputs.").size());
        in.refuse(good.error().code, name, good.error().detail);
    }
    if (nominal && (*nominal < c.dc_min_v || *nominal > c.dc_max_v))
        in.refuse(Code::out_of_range, "dc_nominal",
                  fmt::format("{:g} V is outside dc_min {:g} V to dc_max {:g} V", *nominal, c.dc_min_v,
                              c.dc_max_v));
    if (pick_up && *pick_up <= c.drop_out_v)
        in.refuse(Code::out_of_range, "drop_out",
                  fmt::format("{:g} V is not below the pick-up {:g} V: the two look swapped, enter them the "
                              "other way round",
                              c.drop_out_v, *pick_up));
    if (pick_up && *pick_up > c.dc_min_v)
        in.refuse(
            Code::out_of_range, "pick_up",
            fmt::format("{:g} V is above the lowest supply {:g} V: the input would not see a trip there; "
                        "choose an input for a lower voltage",
                        *pick_up, c.dc_min_v));
}

} // namespace

void check_positive(Inputs& in, char const* name, std::optional<double> value)
{
    if (value && !(*value > 0.0))
        in.refuse(Code::out_of_range, name, "must be above zero");
}

electrical::NoiseResistorCase read_resistor_case(Inputs& in, NoiseCurrents& noise)
{
    NoiseResistorCase c;
    c.dc_min_v = in.quantity("dc_min", Dimension::voltage);
    c.dc_max_v = in.quantity("dc_max", Dimension::voltage);
    auto const nominal = in.optional_quantity("dc_nominal", Dimension::voltage);
    c.input_ohm = in.quantity("input_resistance", Dimension::resistance);
    c.drop_out_v = in.quantity("drop_out", Dimension::voltage);
    auto const pick_up = in.optional_quantity("pick_up", Dimension::voltage);
    noise = read_noise(in, c.cable_f);
    c.noise_a = noise.leakage_a + noise.coupled_a;
    c.wetting_a = in.optional_quantity("wetting_current", Dimension::current);
    c.breaking_a = in.optional_quantity("contact_breaking_current", Dimension::current);
    c.max_delay_s = in.optional_quantity("max_timing_error", Dimension::time);
    c.power_w = in.optional_quantity("power_rating", Dimension::power);
    c.part_voltage_v = in.optional_quantity("voltage_rating", Dimension::voltage);
    check_positive(in, "wetting_current", c.wetting_a);
    check_positive(in, "contact_breaking_current", c.breaking_a);
    check_positive(in, "max_timing_error", c.max_delay_s);
    check_positive(in, "power_rating", c.power_w);
    check_positive(in, "voltage_rating", c.part_voltage_v);
    c.derating = given_or_usual(in, here, "derating", Dimension::fraction);
    c.tolerance = given_or_usual(in, here, "tolerance", Dimension::fraction);
    c.noise_share = given_or_usual(in, here, "noise_share", Dimension::fraction);
    c.series = read_series(in);
    check_voltages(in, c, nominal, pick_up);
    return c;
}

} // namespace isochore::calc
