#include "calc/gas_inputs.h"
#include "calc/gas_moisture.h"
#include "calc/registry.h"
#include "gas/saturation.h"
#include "gas/state.h"
#include <array>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

constexpr double reference_temperature_k = 293.15; // 20 degC, to which filling data of breakers refer

void add_liquefaction(Answer& answer, gas::Species species, double density)
{
    auto const dew = gas::saturation_at_density(species, density);
    if (dew)
        answer.add("liquefaction_temperature", dew->temperature_k, "K");
    else
        answer.notes.push_back("no liquefaction temperature: " + dew.error().detail);
}

Result<Answer> density(Inputs& in)
{
    gas::Species const species = read_gas(in);
    double const t = in.quantity("temperature", Dimension::temperature);
    double const p = in.absolute_pressure("pressure");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const rho = gas::density_kg_m3(species, t, p);
    if (!rho)
        return at_input(rho.error());
    Answer answer;
    double const relative = gas::equation_relative_u(species, t, *rho);
    double const z = gas::compressibility(species, t, p, *rho);
    answer.add("density", *rho, "kg/m3", *rho * relative);
    answer.add("compressibility", z, "1", z * relative);
    if (auto const p20 = gas::pressure_pa(species, reference_temperature_k, *rho))
        answer.add("pressure_at_20C", *p20, "Pa");
    else
        answer.notes.push_back("no pressure at 20 degC: " + p20.error().detail);
    add_liquefaction(answer, species, *rho);
    answer.facts["phase"] = "gas";
    auto const& data = gas::equation(species).data();
    answer.working.push_back(
        {"rho from p = rho R T/M (1 + delta d(alpha_r)/d(delta))",
         fmt::format("T = {:.3f} K, p = {:.1f} Pa: rho = {:.6f} kg/m3, Z = {:.6f}", t, p, *rho, z),
         std::string(data.citation)});
    return answer;
}

Result<Answer> pressure(Inputs& in)
{
    gas::Species const species = read_gas(in);
    double const t = in.quantity("temperature", Dimension::temperature);
    double const rho = in.quantity("density", Dimension::density);
    double const baro = in.barometer();
    if (in.error())
        return tl::unexpected(*in.error());
    auto const p = gas::pressure_pa(species, t, rho);
    if (!p)
        return at_input(p.error());
    Answer answer;
    double const u = *p * gas::equation_relative_u(species, t, rho);
    answer.add("pressure", *p, "Pa", u);
    answer.add("pressure_gauge", *p - baro, "Pa", u);
    answer.facts["phase"] = "gas";
    return answer;
}

Result<Answer> saturation(Inputs& in)
{
    gas::Species const species = read_gas(in);
    auto const t = in.optional_quantity("temperature", Dimension::temperature);
    auto const rho = in.optional_quantity("density", Dimension::density);
    if (!in.error() && t.has_value() == rho.has_value())
        in.refuse(Error::Code::missing_input, "temperature",
                  "give either a temperature or a density, not both");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const s = t ? gas::saturation(species, *t) : gas::saturation_at_density(species, *rho);
    if (!s)
        return at_input(s.error());
    Answer answer;
    answer.add("pressure", s->pressure_pa, "Pa");
    answer.add("liquid_density", s->liquid_kg_m3, "kg/m3");
    answer.add("vapour_density", s->vapour_kg_m3, "kg/m3");
    answer.add("temperature", s->temperature_k, "K");
    return answer;
}

constexpr std::array calculations = {
    Calculation{"gas.density", "density from temperature and pressure", density},
    Calculation{"gas.pressure", "pressure from temperature and density", pressure},
    Calculation{"gas.saturation", "dew line at a temperature or of a density", saturation},
    Calculation{"gas.moisture", "water in the gas as frost point and ppmv", gas_moisture},
};

} // namespace

std::span<Calculation const> gas_calculations()
{
    return calculations;
}

} // namespace isochore::calc
