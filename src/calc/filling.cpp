#include "calc/filling.h"
#include "gas/atmosphere.h"
#include "gas/state.h"
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::calc {

using Code = Error::Code;

namespace {

double nominal_reference(Inputs& in)
{
    auto const given = in.has("nominal_reference") ? in.absolute_pressure("nominal_reference") : 0.0;
    if (in.has("nominal_reference"))
        return given;
    in.raw("nominal_reference");
    in.note("gauge filling values are taken at 20 degC against 101.325 kPa");
    return gas::standard_pressure_pa;
}

Filling density_of(Inputs& in, std::string_view name, gas::Species species, Amount const& amount)
{
    double pressure = amount.si;
    if (amount.reference == PressureReference::gauge)
        pressure += nominal_reference(in);
    if (in.error())
        return {};
    auto const rho = gas::density_kg_m3(species, filling_reference_k, pressure);
    if (rho)
        return {*rho, true};
    in.refuse(rho.error().code, name, "at 20 degC: " + rho.error().detail);
    return {};
}

bool is_density(std::string const& text)
{
    return parse_amount(text, Dimension::density, "").has_value();
}

} // namespace

std::optional<Filling> read_filling(Inputs& in, std::string_view name, gas::Species species)
{
    if (!in.has(name)) {
        in.raw(name);
        return std::nullopt;
    }
    std::string const text = in.text(name);
    if (in.error())
        return Filling{};
    if (is_density(text)) {
        Filling const filling{in.quantity(name, Dimension::density), false};
        if (!(filling.density_kg_m3 > 0.0))
            in.refuse(Code::out_of_range, name, fmt::format("\"{}\" is no filling density", text));
        return filling;
    }
    auto const amount = parse_amount(text, Dimension::pressure, in.place(name));
    if (!amount) {
        in.refuse(amount.error().code, name, amount.error().detail + "; or give a density in kg/m3");
        return Filling{};
    }
    return density_of(in, name, species, *amount);
}

Filling read_nominal(Inputs& in, gas::Species species)
{
    bool const density = in.has("nominal_density"), pressure = in.has("nominal_pressure");
    if (density == pressure) {
        in.refuse(density ? Code::invalid_input : Code::missing_input,
                  density ? "nominal_density" : "nominal_pressure",
                  "give either nominal_density or nominal_pressure (at 20 degC), not both");
        return {};
    }
    in.raw("nominal_reference");
    in.raw(density ? "nominal_pressure" : "nominal_density");
    if (density) {
        double const rho = in.quantity("nominal_density", Dimension::density);
        if (!in.error() && !(rho > 0.0))
            in.refuse(Code::out_of_range, "nominal_density", "a filling density is above zero");
        return {rho, false};
    }
    std::string const text = in.text("nominal_pressure");
    if (in.error())
        return {};
    auto const amount = parse_amount(text, Dimension::pressure, in.place("nominal_pressure"));
    if (!amount) {
        in.refuse(amount.error().code, "nominal_pressure", amount.error().detail);
        return {};
    }
    return density_of(in, "nominal_pressure", species, *amount);
}

double read_volume(Inputs& in, double nominal_density_kg_m3)
{
    bool const volume = in.has("volume"), mass = in.has("nameplate_mass");
    if (volume == mass) {
        in.refuse(volume ? Code::invalid_input : Code::missing_input, volume ? "volume" : "nameplate_mass",
                  "give either the gas volume or the nameplate mass of gas, not both");
        return 1.0;
    }
    in.raw(volume ? "nameplate_mass" : "volume");
    char const* const name = volume ? "volume" : "nameplate_mass";
    double const value = in.quantity(name, volume ? Dimension::volume : Dimension::mass);
    if (!in.error() && !(value > 0.0))
        in.refuse(Code::out_of_range, name, "must be above zero");
    return volume ? value : value / nominal_density_kg_m3;
}

double read_added_volume(Inputs& in)
{
    double total = in.quantity_or("added_volume", Dimension::volume, 0.0);
    if (!in.error() && total < 0.0)
        in.refuse(Code::out_of_range, "added_volume", "must not be negative");
    for (Inputs& tube : in.list("tubes")) {
        double const bore = tube.quantity("bore", Dimension::length);
        double const length = tube.quantity("length", Dimension::length);
        if (!tube.error() && !(bore > 0.0 && bore < 0.5 && length > 0.0 && length < 200.0))
            tube.refuse(
                Code::out_of_range, bore > 0.0 && bore < 0.5 ? "length" : "bore",
                "is no tube of a gas connection: bore below 0.5 m and length below 200 m are expected");
        tube.refuse_unread();
        in.absorb(tube);
        total += std::numbers::pi / 4.0 * bore * bore * length;
    }
    return total;
}

Reading read_pressure(Inputs& in, std::string_view name)
{
    Reading reading;
    std::string const text = in.text(name);
    if (in.error())
        return reading;
    auto const amount = parse_amount(text, Dimension::pressure, in.place(name));
    reading.gauge = amount && amount->reference == PressureReference::gauge;
    reading.barometer_pa = in.barometer();
    reading.absolute_pa = in.absolute_pressure(name);
    return reading;
}

} // namespace isochore::calc
