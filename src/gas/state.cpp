#include "gas/state.h"
#include "gas/saturation.h"
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace isochore::gas {
namespace {

using Code = Error::Code;

// ln p_sat against 1/T is nearly straight. A straight line from the triple to the critical point, lowered
// until it lies below the whole curve, tells at the cost of one exponential that a state is surely gas.
struct Chord {
    double offset = 0.0, slope = 0.0;
    double pressure_pa(double temperature_k) const { return std::exp(offset + slope / temperature_k); }
};

Chord chord_below(Species species)
{
    FluidData const& data = equation(species).data();
    double const t0 = data.least_temperature_k, t1 = data.start_pressure.temperature_k;
    double const p0 = std::log(rough_saturation_pressure_pa(species, t0));
    double const p1 = std::log(data.start_pressure.reducing_value);
    Chord chord;
    chord.slope = (p1 - p0) / (1.0 / t1 - 1.0 / t0);
    chord.offset = p0 - chord.slope / t0;
    double lowest = 0.0;
    constexpr int samples = 400;
    for (int i = 0; i < samples; ++i) {
        double const t = t0 + (t1 - t0) * i / samples;
        lowest = std::min(lowest, std::log(rough_saturation_pressure_pa(species, t)) - chord.offset -
                                      chord.slope / t);
    }
    chord.offset += lowest - 0.03; // dry air's dew line is fitted to 1 % only
    return chord;
}

Chord const& chord(Species species)
{
    static std::array<Chord, 5> const chords = {chord_below(Species::sf6), chord_below(Species::n2),
                                                chord_below(Species::co2), chord_below(Species::cf4),
                                                chord_below(Species::air)};
    return chords[static_cast<std::size_t>(species)];
}

std::string named_pressure(double pa)
{
    return pa < 1e5 ? fmt::format("{:.5g} kPa", pa / 1e3) : fmt::format("{:.5g} MPa", pa / 1e6);
}

tl::unexpected<Error> liquid_error(FluidData const& data, double temperature_k, double pressure_pa,
                                   double dew_pa)
{
    return fail(Code::liquid, "pressure",
                fmt::format("at {:.1f} °C {} turns liquid above {} abs; {} abs is above that",
                            temperature_k - 273.15, data.name, named_pressure(dew_pa),
                            named_pressure(pressure_pa)));
}

} // namespace

GasAt::GasAt(Key, Species species, Equation const& eq, double temperature_k)
    : m_species(species), m_equation(&eq), m_isotherm(eq.isotherm(temperature_k)),
      m_density_scale(eq.data().reducing_density_mol_m3 * eq.data().molar_mass_kg_mol)
{
    FluidData const& data = eq.data();
    if (temperature_k >= data.start_pressure.temperature_k) {
        m_surely_gas_pa = data.greatest_pressure_pa;
        m_surely_gas_delta = 1e9;
    } else {
        m_surely_gas_pa = chord(species).pressure_pa(temperature_k);
        // Saturated vapour is always denser than the ideal gas at its pressure.
        m_surely_gas_delta = m_surely_gas_pa / m_isotherm.pressure_scale_pa;
    }
}

std::optional<Error> GasAt::refusal(FluidData const& data, double temperature_k)
{
    if (temperature_k >= data.least_temperature_k && temperature_k <= data.greatest_temperature_k)
        return std::nullopt;
    return Error{
        Code::out_of_range, "temperature",
        fmt::format("{:.3f} K ({:.3f} degC) is outside {:.3f} K to {:.0f} K, where the equation of {} is "
                    "valid{}",
                    temperature_k, temperature_k - 273.15, data.least_temperature_k,
                    data.greatest_temperature_k, data.name,
                    temperature_k < data.least_temperature_k ? "; below its triple point it would freeze"
                                                             : "")};
}

Result<GasAt> GasAt::at(Species species, double temperature_k)
{
    Equation const& eq = equation(species);
    if (auto refused = refusal(eq.data(), temperature_k))
        return tl::unexpected(*std::move(refused));
    return Result<GasAt>(tl::in_place, Key{}, species, eq, temperature_k);
}

double GasAt::first_guess(double target) const
{
    // delta (1 + b delta + 2 c delta^2) = target: the virial series, as a quadratic then two Newton steps.
    auto const virial = m_equation->virial(m_isotherm);
    double const b = virial.b, c2 = 2.0 * virial.c;
    double const root = 1.0 + 4.0 * b * target;
    double delta = 2.0 * target / (1.0 + std::sqrt(std::max(root, 0.05)));
    for (int i = 0; i < 2; ++i)
        delta -= (delta * (1.0 + delta * (b + c2 * delta)) - target) /
                 std::max(1.0 + delta * (2.0 * b + 3.0 * c2 * delta), 0.05);
    return std::clamp(delta, 0.5 * target, 4.0 * target);
}

double GasAt::solve(double target, double start) const
{
    // A guess is used only where the gas root can lie near it; anything else could lead to the liquid.
    double delta = start > 0.8 * target && start < 1.6 * target ? start : first_guess(target);
    bool const all_terms_bend = m_equation->data().non_analytic.empty();
    for (int i = 0; i < 12; ++i) {
        auto const at = m_equation->pressure_curve(m_isotherm, delta);
        if (!(at.slope > 1e-3))
            return 0.0;
        // Householder's method of the third order in step / delta; Newton's alone where it bends too much.
        double const scale = 1.0 / at.slope;
        double const newton = (target - at.f) * scale / delta;
        double const lift = at.bend * scale * newton, turn = at.twist * scale * newton * newton;
        bool const flat = std::fabs(lift) < 0.5 && std::fabs(turn) < 0.5;
        double const step = flat ? newton * (1.0 + 0.5 * lift) / (1.0 + lift + turn / 6.0) : newton;
        delta += delta * step;
        if (!(delta > 0.0))
            return 0.0;
        double const size = std::fabs(step);
        if (!all_terms_bend || !flat) {
            if (size < 1e-9)
                return delta;
            continue;
        }
        double const left = size * (std::fabs(lift * lift * lift) + size * size * size);
        if (left < 4e-16)
            return delta;
        if (left < 1e-9) {
            // The slope is known here too: one more value of the pressure ends it.
            double const slope = at.slope + step * (at.bend + 0.5 * at.twist * step);
            return delta + (target - m_equation->reduced_pressure(m_isotherm, delta)) / slope;
        }
    }
    return 0.0;
}

double GasAt::solve_slowly(double target) const
{
    // Below the critical temperature pressure is a concave function of density up to the spinodal, so plain
    // Newton from the ideal gas climbs to the gas root and never passes it. Above, pressure always rises.
    bool const monotone = m_isotherm.temperature_k >= m_equation->data().critical_temperature_k;
    double delta = monotone ? std::min(target, 1.0) : target, low = 0.0, high = monotone ? 6.0 : 1.0;
    for (int i = 0; i < 300; ++i) {
        auto const at = m_equation->evaluate(m_isotherm, delta);
        double const miss = delta * (1.0 + at.d) - target;
        double const slope = 1.0 + 2.0 * at.d + at.dd;
        (miss < 0.0 ? low : high) = delta;
        double next = delta - miss / slope;
        if (!(slope > 0.0) || !(next > low && next < high))
            next = 0.5 * (low + high);
        if (std::fabs(next - delta) <= 4e-16 * delta)
            return next;
        delta = next;
    }
    return delta;
}

Result<double> GasAt::density_kg_m3(double pressure_pa, double near_kg_m3) const
{
    FluidData const& data = m_equation->data();
    if (!(pressure_pa > 0.0) || pressure_pa > data.greatest_pressure_pa)
        return fail(
            Code::out_of_range, "pressure",
            fmt::format("{} abs is outside the range of the equation of {} (above 0, up to {:.0f} MPa)",
                        named_pressure(pressure_pa), data.name, data.greatest_pressure_pa / 1e6));
    double const t = m_isotherm.temperature_k;
    if (pressure_pa > m_surely_gas_pa) {
        double const rough = rough_saturation_pressure_pa(m_species, t);
        double const doubt = data.pure ? 1e-3 : 0.02;
        if (pressure_pa > rough * (1.0 + doubt) || (!data.pure && pressure_pa > rough * (1.0 - doubt)))
            return liquid_error(data, t, pressure_pa, rough);
        if (pressure_pa > rough * (1.0 - doubt)) {
            auto const exact = saturation(m_species, t);
            if (!exact)
                return tl::unexpected(exact.error());
            if (pressure_pa > exact->pressure_pa)
                return liquid_error(data, t, pressure_pa, exact->pressure_pa);
        }
    }
    double const target = pressure_pa / m_isotherm.pressure_scale_pa;
    double delta = solve(target, near_kg_m3 / m_density_scale);
    if (delta == 0.0)
        delta = solve_slowly(target);
    return delta * m_density_scale;
}

Result<double> GasAt::pressure_pa(double density_kg_m3) const
{
    FluidData const& data = m_equation->data();
    double const t = m_isotherm.temperature_k;
    double const delta = density_kg_m3 / m_density_scale;
    if (!(delta > 0.0))
        return fail(Code::out_of_range, "density",
                    fmt::format("{:.6g} kg/m3 is not a density: it must be above zero", density_kg_m3));
    if (delta > m_surely_gas_delta) {
        if (!data.pure)
            return fail(
                Code::out_of_range, "density",
                fmt::format("at {:.3f} K air of {:.6g} kg/m3 may be partly liquid; its dew line is not "
                            "followed here",
                            t, density_kg_m3));
        if (t < data.critical_temperature_k) {
            auto const dew = saturation(m_species, t);
            if (!dew)
                return tl::unexpected(dew.error());
            if (density_kg_m3 > dew->liquid_kg_m3)
                return fail(
                    Code::liquid, "density",
                    fmt::format("at {:.3f} K {} of {:.6g} kg/m3 is liquid", t, data.name, density_kg_m3));
            if (density_kg_m3 > dew->vapour_kg_m3)
                return fail(
                    Code::two_phase, "density",
                    fmt::format("at {:.3f} K {} vapour holds at most {:.4f} kg/m3; of {:.6g} kg/m3 a part is "
                                "liquid and the pressure stays at {} abs",
                                t, data.name, dew->vapour_kg_m3, density_kg_m3,
                                named_pressure(dew->pressure_pa)));
        }
    }
    double const p = m_isotherm.pressure_scale_pa * m_equation->reduced_pressure(m_isotherm, delta);
    if (!(p <= data.greatest_pressure_pa))
        return fail(Code::out_of_range, "density",
                    fmt::format("{:.6g} kg/m3 needs more than {:.0f} MPa, where the equation of {} ends",
                                density_kg_m3, data.greatest_pressure_pa / 1e6, data.name));
    return p;
}

double GasAt::slope(double density_kg_m3) const
{
    auto const at = m_equation->evaluate(m_isotherm, density_kg_m3 / m_density_scale);
    return m_isotherm.pressure_scale_pa / m_density_scale * (1.0 + 2.0 * at.d + at.dd);
}

Result<double> density_kg_m3(Species species, double temperature_k, double pressure_pa)
{
    Equation const& eq = equation(species);
    if (auto refused = GasAt::refusal(eq.data(), temperature_k))
        return tl::unexpected(*std::move(refused));
    return GasAt(GasAt::Key{}, species, eq, temperature_k).density_kg_m3(pressure_pa);
}

Result<double> pressure_pa(Species species, double temperature_k, double density_kg_m3)
{
    Equation const& eq = equation(species);
    if (auto refused = GasAt::refusal(eq.data(), temperature_k))
        return tl::unexpected(*std::move(refused));
    return GasAt(GasAt::Key{}, species, eq, temperature_k).pressure_pa(density_kg_m3);
}

double compressibility(Species species, double temperature_k, double pressure_pa, double density_kg_m3)
{
    FluidData const& data = equation(species).data();
    return pressure_pa * data.molar_mass_kg_mol / (density_kg_m3 * data.gas_constant_j_mol_k * temperature_k);
}

Caloric caloric(Species species, double temperature_k, double density_kg_m3)
{
    Equation const& eq = equation(species);
    FluidData const& data = eq.data();
    double const tau = data.reducing_temperature_k / temperature_k;
    double const delta = density_kg_m3 / (data.reducing_density_mol_m3 * data.molar_mass_kg_mol);
    auto const at = eq.evaluate_caloric(tau, delta);
    double const r = data.gas_constant_j_mol_k / data.molar_mass_kg_mol;
    double const cv = -(eq.ideal_tt(tau) + at.tt);
    double const lift = 1.0 + at.density.d - at.dt;
    double const slope = 1.0 + 2.0 * at.density.d + at.density.dd;
    double const cp = cv + lift * lift / slope;
    return {r * cv, r * cp, std::sqrt(r * temperature_k * (slope + lift * lift / cv))};
}

double equation_relative_u(Species species, double temperature_k, double density_kg_m3)
{
    FluidData const& data = equation(species).data();
    double const dew = rough_saturation_pressure_pa(species, temperature_k);
    if (std::isnan(dew))
        return data.u_density_gas;
    double const ideal = density_kg_m3 * data.gas_constant_j_mol_k * temperature_k / data.molar_mass_kg_mol;
    return ideal > 0.9 * dew ? data.u_density_near_saturation : data.u_density_gas;
}

} // namespace isochore::gas
