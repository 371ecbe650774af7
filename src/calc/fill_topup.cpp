#include "calc/fill_topup.h"
#include "calc/fill_checks.h"
#include "calc/filling.h"
#include "calc/gas_inputs.h"
#include "calc/series.h"
#include "calc/uncertain.h"
#include "gas/state.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using uncertainty::Budget;
using uncertainty::Input;
using Values = std::span<double const>;

enum Place : std::size_t { temperature, pressure, barometer, volume, added, equation, places };

double not_a_number()
{
    return std::numeric_limits<double>::quiet_NaN();
}

/// Everything the top-up rests on. The models read the drawn values and take the rest from here.
struct Topup {
    gas::Species species = gas::Species::sf6;
    Filling nominal;
    Reading reading;
    bool pipe_empty = false;
    std::array<Input, places> inputs;
    double density_guess = 0.0;

    [[nodiscard]] double absolute(Values v) const
    {
        return v[pressure] + (reading.gauge ? v[barometer] : 0.0);
    }

    [[nodiscard]] Result<double> density_now(Values v) const
    {
        auto const gas = gas::GasAt::at(species, v[temperature]);
        if (!gas)
            return tl::unexpected(gas.error());
        auto const rho = gas->density_kg_m3(absolute(v), density_guess);
        return rho ? Result<double>(*rho * (1.0 + v[equation])) : rho;
    }

    /// The equation's own error shifts both densities alike when the target came from a pressure too.
    [[nodiscard]] double density_target(Values v) const
    {
        return nominal.density_kg_m3 * (nominal.from_pressure ? 1.0 + v[equation] : 1.0);
    }

    [[nodiscard]] Result<double> mass(Values v) const
    {
        auto const now = density_now(v);
        if (!now)
            return now;
        double const target = density_target(v);
        return v[volume] * (target - *now) + v[added] * (pipe_empty ? target : target - *now);
    }

    /// What the gauge will show when the target density is reached: the same gauge, barometer and
    /// temperature.
    [[nodiscard]] Result<double> reading_after(Values v) const
    {
        auto const p =
            gas::pressure_pa(species, v[temperature],
                             nominal.density_kg_m3 * (nominal.from_pressure ? 1.0 : 1.0 - v[equation]));
        return p ? Result<double>(*p - v[barometer]) : p;
    }
};

void read_inputs(Inputs& in, Topup& job)
{
    job.species = read_gas(in);
    if (in.error())
        return;
    job.nominal = read_nominal(in, job.species);
    double const v = read_volume(in, job.nominal.density_kg_m3);
    double const extra = read_added_volume(in);
    double const t = in.quantity("temperature", Dimension::temperature);
    job.reading = read_pressure(in, "pressure");
    job.pipe_empty = in.one_of("pipe", {"connected", "empty"}, "connected") == "empty";
    Uncertainties u(in);
    double const shown = job.reading.absolute_pa - (job.reading.gauge ? job.reading.barometer_pa : 0.0);
    job.inputs[temperature] = u.read("temperature", t, Dimension::temperature_difference);
    job.inputs[pressure] = u.read("pressure", shown, Dimension::pressure_difference);
    job.inputs[barometer] = u.read("baro", job.reading.barometer_pa, Dimension::pressure_difference);
    job.inputs[volume] = u.read("volume", v, Dimension::volume);
    job.inputs[added] = extra > 0.0 || u.given("added_volume")
                            ? u.read("added_volume", extra, Dimension::volume)
                            : Input{"added_volume", 0.0, 0.0, {}, 1e9, ""};
    u.finish();
    job.inputs[equation] = {"equation of state",
                            0.0,
                            gas::equation_relative_u(job.species, t, job.nominal.density_kg_m3),
                            uncertainty::Shape::normal,
                            std::numeric_limits<double>::infinity(),
                            std::string(gas::equation(job.species).data().citation)};
}

/// A slip of unit or reference that would explain the reading, seen from the filling pressure at this
/// temperature and from the air temperature; empty where there is none.
std::string slip_of(Topup const& job, Values best, FillLimits const& limits)
{
    if (limits.air_temperature_k) {
        std::string const slip = temperature_slip(best[temperature], *limits.air_temperature_k, 1.5);
        if (!slip.empty())
            return "like " + slip;
    }
    auto const filled = gas::pressure_pa(job.species, best[temperature], job.nominal.density_kg_m3);
    return filled ? pressure_slip(job.absolute(best), *filled, 0.05, best[barometer]) : std::string();
}

template <class Quantity> Result<Budget> budget_of(Topup const& job, Quantity quantity)
{
    return uncertainty::first_order([&](Values v) { return (job.*quantity)(v); }, job.inputs);
}

void show_working(Answer& answer, Topup const& job, double now, double mass)
{
    double const v = job.inputs[volume].value, extra = job.inputs[added].value;
    auto const& citation = gas::equation(job.species).data().citation;
    answer.working.push_back({"rho_now = rho(T, p)",
                              fmt::format("T = {:.2f} K, p = {:.2f} kPa abs: rho_now = {:.4f} kg/m3",
                                          job.inputs[temperature].value, job.reading.absolute_pa / 1e3, now),
                              std::string(citation)});
    answer.working.push_back(
        {job.nominal.from_pressure ? "rho_target = rho(20 degC, p_nominal)" : "rho_target, given",
         fmt::format("rho_target = {:.4f} kg/m3", job.nominal.density_kg_m3),
         job.nominal.from_pressure ? std::string(citation) : "input nominal_density"});
    answer.working.push_back(
        {job.pipe_empty ? "m = V (rho_target - rho_now) + V_added rho_target"
                        : "m = (V + V_added) (rho_target - rho_now)",
         fmt::format("V = {:.5f} m3, V_added = {:.6f} m3: m = {:.4f} kg", v, extra, mass),
         "conservation of mass"});
}

} // namespace

Result<Answer> fill_target(Inputs& in)
{
    gas::Species const species = read_gas(in);
    if (in.error())
        return tl::unexpected(*in.error());
    Filling const nominal = read_nominal(in, species);
    double const t = in.quantity("temperature", Dimension::temperature);
    double const baro = in.barometer();
    if (in.error())
        return tl::unexpected(*in.error());
    auto const p = gas::pressure_pa(species, t, nominal.density_kg_m3);
    if (!p)
        return at_input({p.error().code, "temperature", p.error().detail});
    Answer answer;
    double const u = *p * gas::equation_relative_u(species, t, nominal.density_kg_m3);
    answer.add("pressure", *p, "Pa", u);
    answer.add("pressure_gauge", *p - baro, "Pa", u);
    answer.add("density", nominal.density_kg_m3, "kg/m3");
    answer.working.push_back(
        {"p = p(T, rho_target), gauge = p - barometer",
         fmt::format("T = {:.2f} K, rho = {:.4f} kg/m3: p = {:.2f} kPa abs, {:.2f} kPa g", t,
                     nominal.density_kg_m3, *p / 1e3, (*p - baro) / 1e3),
         std::string(gas::equation(species).data().citation)});
    return answer;
}

Result<Answer> fill_topup(Inputs& in)
{
    Topup job;
    read_inputs(in, job);
    FillLimits limits = read_fill_limits(in, job.species);
    auto const cylinder_before = in.optional_quantity("cylinder_before", Dimension::mass);
    double const scale_limit = in.quantity_or("scale_limit", Dimension::mass, 0.0);
    if (!in.error() && (scale_limit < 0.0 || cylinder_before.value_or(1.0) <= 0.0))
        in.refuse(Error::Code::out_of_range, scale_limit < 0.0 ? "scale_limit" : "cylinder_before",
                  "must not be negative");
    if (in.error())
        return tl::unexpected(*in.error());

    std::array<double, places> best{};
    for (std::size_t i = 0; i < places; ++i)
        best[i] = job.inputs[i].value;
    std::string const slip = slip_of(job, best, limits);
    auto const now = job.density_now(best);
    if (!now)
        return at_input({now.error().code, now.error().where,
                         now.error().detail + (slip.empty() ? "" : "; it looks " + slip)});
    job.density_guess = *now;
    auto const after = job.reading_after(best);
    if (!after)
        return at_input({after.error().code, "temperature", after.error().detail});

    auto const density = budget_of(job, &Topup::density_now);
    auto const mass = budget_of(job, &Topup::mass);
    auto const shown = budget_of(job, &Topup::reading_after);
    if (!density || !mass || !shown)
        return at_input((!density ? density : !mass ? mass : shown).error());
    auto const spread = uncertainty::monte_carlo(
        [&](Values v) { return job.mass(v).value_or(not_a_number()); }, std::span<Input const>(job.inputs));
    if (!spread)
        return at_input(spread.error());

    Answer answer;
    answer.results.push_back(figure("mass_to_add", mass->value, "kg", *spread));
    answer.results.push_back(figure("density_now", "kg/m3", *density));
    answer.add("density_target", job.nominal.density_kg_m3, "kg/m3",
               job.nominal.from_pressure ? job.nominal.density_kg_m3 * job.inputs[equation].u : 0.0);
    answer.add("target_pressure", *after + best[barometer], "Pa");
    answer.results.push_back(figure("target_pressure_gauge", "Pa", *shown));
    answer.add("volume", best[volume] + best[added], "m3");
    show_working(answer, job, *now, mass->value);
    show_budget(answer, *mass);
    // The gauge will err after the fill as it may err now, so its own part joins in what to expect of it.
    Figure expected = figure("pressure_gauge", "Pa", *shown);
    expected.u = std::hypot(shown->u, job.inputs[pressure].u);
    expected.low = expected.value - shown->coverage * *expected.u;
    expected.high = expected.value + shown->coverage * *expected.u;
    answer.expected.push_back(std::move(expected));
    answer.expected.push_back(figure("cylinder_loss", mass->value, "kg", *spread));
    if (cylinder_before) { // the scale errs at both weighings; what is left in the hose is not foreseen
        double const scale_u = std::sqrt(2.0 / 3.0) * scale_limit;
        double const u = std::hypot(mass->u, scale_u), low = *cylinder_before - mass->value;
        answer.expected.push_back({"cylinder_after", low, "kg", u, low - 2.0 * u, low + 2.0 * u});
    }

    FillState const state{job.species,
                          best[temperature],
                          job.absolute(best),
                          job.nominal.density_kg_m3,
                          *after + best[barometer],
                          best[barometer],
                          *density,
                          *mass};
    if (!slip.empty())
        answer.checks.push_back({"plausible", Verdict::undecided,
                                 fmt::format("{:.2f} kPa abs at {:.2f} degC looks {}",
                                             job.absolute(best) / 1e3, best[temperature] - 273.15, slip),
                                 "read the gauge again, and its unit and whether it shows absolute", ""});
    add_fill_checks(answer, state, limits);
    return answer;
}

} // namespace isochore::calc
