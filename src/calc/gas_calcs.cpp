#include "calc/filling.h"
#include "calc/gas_inputs.h"
#include "calc/gas_moisture.h"
#include "calc/registry.h"
#include "calc/uncertain.h"
#include "gas/saturation.h"
#include "gas/state.h"
#include <array>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

void add_liquefaction(Answer& answer, gas::Species species, double density)
{
    auto const dew = gas::saturation_at_density(species, density);
    if (dew)
        answer.add("liquefaction_temperature", dew->temperature_k, "K");
    else
        answer.notes.push_back("no liquefaction temperature: " + dew.error().detail);
}

/// A state read in the field: temperature and one more quantity, the barometer, and the equation's own error.
struct FieldState {
    std::array<uncertainty::Input, 4>
        inputs; // temperature, pressure or density, barometer, equation of state
    gas::Species species = gas::Species::sf6;
};

enum Place : std::size_t { temperature, quantity, barometer, equation };

uncertainty::Input equation_input(gas::Species species, double relative_u)
{
    return {"equation of state",
            0.0,
            relative_u,
            uncertainty::Shape::normal,
            std::numeric_limits<double>::infinity(),
            std::string(gas::equation(species).data().citation)};
}

/// Reads "uncertainties" where they are given; a bare conversion needs none and is not told off for it.
void read_uncertainties(Inputs& in, FieldState& state, char const* name, Dimension spread)
{
    in.raw("uncertainties");
    if (in.error() || !in.has("uncertainties"))
        return;
    Uncertainties u(in);
    auto const take = [&](Place place, char const* member, Dimension d) {
        state.inputs[place] = u.read(member, state.inputs[place].value, d);
    };
    take(temperature, "temperature", Dimension::temperature_difference);
    take(quantity, name, spread);
    take(barometer, "baro", Dimension::pressure_difference);
    u.finish();
}

Result<uncertainty::Budget> budget_of(FieldState const& state, uncertainty::Model const& model)
{
    return uncertainty::first_order(model, state.inputs);
}

Result<Answer> density(Inputs& in)
{
    FieldState state;
    state.species = read_gas(in);
    double const t = in.quantity("temperature", Dimension::temperature);
    Reading const reading = read_pressure(in, "pressure");
    double const p = reading.absolute_pa;
    state.inputs[temperature] = {"temperature", t, 0.0, {}, 1e12, ""};
    state.inputs[quantity] = {"pressure", p, 0.0, {}, 1e12, ""};
    state.inputs[barometer] = {"baro", reading.barometer_pa, 0.0, {}, 1e12, ""};
    read_uncertainties(in, state, "pressure", Dimension::pressure_difference);
    if (in.error())
        return tl::unexpected(*in.error());
    auto const rho = gas::density_kg_m3(state.species, t, p);
    if (!rho)
        return at_input(rho.error());
    state.inputs[equation] = equation_input(state.species, gas::equation_relative_u(state.species, t, *rho));
    auto const now = [&](std::span<double const> v) -> Result<double> {
        double const moved = reading.gauge ? v[barometer] - reading.barometer_pa : 0.0;
        auto const at = gas::density_kg_m3(state.species, v[temperature], v[quantity] + moved);
        return at ? Result<double>(*at * (1.0 + v[equation])) : at;
    };
    auto const budget = budget_of(state, now);
    // The equation errs alike at both temperatures, so it drops out of the pressure at 20 degC.
    auto const p20 = budget_of(state, [&](std::span<double const> v) {
        auto const at = now(v);
        return at ? gas::pressure_pa(state.species, filling_reference_k, *at / (1.0 + v[equation])) : at;
    });
    if (!budget)
        return at_input(budget.error());

    Answer answer;
    double const z = gas::compressibility(state.species, t, p, *rho);
    answer.results.push_back(figure("density", "kg/m3", *budget));
    answer.add("compressibility", z, "1", z * state.inputs[equation].u);
    if (p20)
        answer.results.push_back(figure("pressure_at_20C", "Pa", *p20));
    else
        answer.notes.push_back("no pressure at 20 degC: " + p20.error().detail);
    add_liquefaction(answer, state.species, *rho);
    answer.facts["phase"] = "gas";
    show_budget(answer, *budget);
    answer.working.push_back(
        {"rho from p = rho R T/M (1 + delta d(alpha_r)/d(delta))",
         fmt::format("T = {:.3f} K, p = {:.1f} Pa: rho = {:.6f} kg/m3, Z = {:.6f}", t, p, *rho, z),
         std::string(gas::equation(state.species).data().citation)});
    return answer;
}

Result<Answer> pressure(Inputs& in)
{
    FieldState state;
    state.species = read_gas(in);
    double const t = in.quantity("temperature", Dimension::temperature);
    double const rho = in.quantity("density", Dimension::density);
    double const baro = in.barometer();
    state.inputs[temperature] = {"temperature", t, 0.0, {}, 1e12, ""};
    state.inputs[quantity] = {"density", rho, 0.0, {}, 1e12, ""};
    state.inputs[barometer] = {"baro", baro, 0.0, {}, 1e12, ""};
    read_uncertainties(in, state, "density", Dimension::density);
    if (in.error())
        return tl::unexpected(*in.error());
    state.inputs[equation] = equation_input(state.species, gas::equation_relative_u(state.species, t, rho));
    auto const absolute = [&](std::span<double const> v) {
        return gas::pressure_pa(state.species, v[temperature], v[quantity] * (1.0 - v[equation]));
    };
    auto const p = budget_of(state, absolute);
    if (!p)
        return at_input(p.error());
    auto const gauge = budget_of(state, [&](std::span<double const> v) {
        auto const at = absolute(v);
        return at ? Result<double>(*at - v[barometer]) : at;
    });
    if (!gauge)
        return at_input(gauge.error());
    Answer answer;
    answer.results.push_back(figure("pressure", "Pa", *p));
    answer.results.push_back(figure("pressure_gauge", "Pa", *gauge));
    answer.facts["phase"] = "gas";
    show_budget(answer, *gauge);
    answer.working.push_back({"p = p(T, rho), gauge = p - barometer",
                              fmt::format("T = {:.3f} K, rho = {:.6f} kg/m3: p = {:.2f} Pa, {:.2f} Pa g", t,
                                          rho, p->value, gauge->value),
                              std::string(gas::equation(state.species).data().citation)});
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
    answer.working.push_back(
        {"p(T, rho') = p(T, rho'') and g(T, rho') = g(T, rho'')",
         fmt::format("T = {:.4f} K: p = {:.2f} Pa, rho' = {:.4f} kg/m3, rho'' = {:.5f} kg/m3",
                     s->temperature_k, s->pressure_pa, s->liquid_kg_m3, s->vapour_kg_m3),
         std::string(gas::equation(species).data().citation)});
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
