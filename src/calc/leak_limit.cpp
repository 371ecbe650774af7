#include "calc/leak_limit.h"
#include "calc/filling.h"
#include "gas/leak.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {

using Code = Error::Code;

double read_leak_rate(Inputs& in, std::string_view name, gas::Species species, double gas_mass_kg)
{
    std::string const text = in.text(name);
    if (in.error())
        return 1e-9;
    if (auto const share = parse_amount(text, Dimension::fraction_rate, in.place(name)))
        return share->si * gas_mass_kg;
    if (auto const flow = parse_amount(text, Dimension::throughput, in.place(name))) {
        in.note("leaks in Pa m3/s or mbar l/s are taken at 20 degC");
        return gas::mass_flow_kg_s(species, flow->si, filling_reference_k);
    }
    auto const mass = parse_amount(text, Dimension::mass_flow, in.place(name));
    if (mass)
        return mass->si;
    in.refuse(mass.error().code, name,
              mass.error().detail + "; a leak may also be given in %/yr or in mbar l/s at 20 degC");
    return 1e-9;
}

std::optional<LeakLimit> read_leak_limit(Inputs& in, std::string_view name, gas::Species species,
                                         double gas_mass_kg)
{
    in.raw(name);
    if (!in.has(name))
        return std::nullopt;
    LeakLimit const limit{read_leak_rate(in, name, species, gas_mass_kg), in.error() ? "" : in.text(name)};
    if (!in.error() && !(limit.kg_s > 0.0))
        in.refuse(Code::out_of_range, name, "a leak limit is above zero: nothing is proved tight to nothing");
    if (!in.error() && !(limit.kg_s < 1.0))
        in.refuse(Code::out_of_range, name,
                  "is more than a kilogram a second: check its unit and the mass of gas it refers to");
    return limit;
}

void add_leak_figures(Answer& answer, gas::Species species, double leak, double u, double expanded,
                      double gas_mass)
{
    auto const add = [&](char const* name, char const* unit, double factor) {
        answer.results.push_back(
            {name, leak * factor, unit, u * factor, (leak - expanded) * factor, (leak + expanded) * factor});
    };
    add("leak_rate", "kg/s", 1.0);
    add("leak_throughput", "Pa m3/s", gas::throughput_pa_m3_s(species, 1.0, filling_reference_k));
    add("annual_loss", "kg", gas::year_s);
    if (gas_mass > 0.0)
        add("annual_fraction", "%", gas::year_s / gas_mass * 100.0);
}

std::string mass_a_year(double kg_s)
{
    return fmt::format("{:.4g} g/yr", kg_s * gas::year_s * 1e3);
}

} // namespace isochore::calc
