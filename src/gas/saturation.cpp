#include "gas/saturation.h"
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <optional>

namespace isochore::gas {
namespace {

using Code = Error::Code;

double fitted(StartFit const& fit, double temperature_k)
{
    double const x = std::fmax(1.0 - temperature_k / fit.temperature_k, 0.0);
    double sum = 0.0;
    for (auto const& term : fit.terms)
        sum += term.n * std::pow(x, term.t);
    if (fit.linear)
        return fit.reducing_value * (1.0 + sum);
    if (fit.by_tau)
        sum *= fit.temperature_k / temperature_k;
    return fit.reducing_value * std::exp(sum);
}

struct Pair {
    double liquid, vapour; // delta
};

// Newton on equal pressure (j) and equal Gibbs energy (k); nothing where it leaves the two branches.
std::optional<Pair> balance(Equation const& equation, Isotherm const& iso, Pair start)
{
    auto [l, v] = start;
    double last = std::numeric_limits<double>::infinity();
    for (int step = 0; step < 60; ++step) {
        auto const a = equation.evaluate(iso, l), b = equation.evaluate(iso, v);
        double const j_l = l * (1.0 + a.d), j_v = v * (1.0 + b.d);
        double const k_l = a.d + a.a + std::log(l), k_v = b.d + b.a + std::log(v);
        double const jd_l = 1.0 + 2.0 * a.d + a.dd, jd_v = 1.0 + 2.0 * b.d + b.dd;
        double const kd_l = jd_l / l, kd_v = jd_v / v;
        double const det = jd_v * kd_l - jd_l * kd_v;
        double const dj = j_v - j_l, dk = k_v - k_l;
        double const move_l = (dk * jd_v - dj * kd_v) / det;
        double const move_v = (dk * jd_l - dj * kd_l) / det;
        double share = 1.0; // no step may cross to the other branch
        while (share > 1e-6 && (l + share * move_l <= v + share * move_v || v + share * move_v <= 0.0))
            share *= 0.5;
        l += share * move_l;
        v += share * move_v;
        double const size = std::fabs(move_l / l) + std::fabs(move_v / v);
        if (!std::isfinite(size))
            return std::nullopt;
        if (size < 1e-9 && (size < 1e-14 || size >= 0.5 * last))
            break;
        last = size;
        if (step == 59)
            return std::nullopt;
    }
    if (!(l > v * (1.0 + 1e-9)) || !(v > 0.0))
        return std::nullopt;
    return Pair{l, v};
}

} // namespace

double rough_saturation_pressure_pa(Species species, double temperature_k)
{
    auto const& data = equation(species).data();
    if (temperature_k < data.least_temperature_k || temperature_k >= data.start_pressure.temperature_k)
        return std::numeric_limits<double>::quiet_NaN();
    return fitted(data.start_pressure, temperature_k);
}

Result<Saturation> saturation(Species species, double temperature_k)
{
    Equation const& eq = equation(species);
    FluidData const& data = eq.data();
    if (!data.pure)
        return fail(Code::out_of_range, "gas", "dry air is a mixture and has no single saturation line");
    if (!(temperature_k >= data.least_temperature_k && temperature_k < data.critical_temperature_k))
        return fail(
            Code::out_of_range, "temperature",
            fmt::format("{} has a saturation line only from {:.3f} K to its critical point at {:.4f} K; "
                        "{:.3f} K lies outside",
                        data.name, data.least_temperature_k, data.critical_temperature_k, temperature_k));
    Isotherm const iso = eq.isotherm(temperature_k);
    double const scale = data.reducing_density_mol_m3;
    double const l0 = fitted(data.start_liquid, temperature_k) / scale;
    double const v0 = fitted(data.start_vapour, temperature_k) / scale;
    // Close to the critical point the start values may lie inside the dome: then start further out.
    for (double wide : {1.0, 1.02, 1.05, 1.1, 1.2}) {
        auto const found = balance(eq, iso, {l0 * wide, v0 / wide});
        if (!found)
            continue;
        auto const vapour = eq.evaluate(iso, found->vapour);
        double const to_kg = scale * data.molar_mass_kg_mol;
        return Saturation{temperature_k, iso.pressure_scale_pa * found->vapour * (1.0 + vapour.d),
                          found->liquid * to_kg, found->vapour * to_kg};
    }
    return fail(Code::no_solution, "temperature",
                fmt::format("{:.6f} K is too close to the critical point of {} for a saturation state",
                            temperature_k, data.name));
}

Result<Saturation> saturation_at_density(Species species, double density_kg_m3)
{
    FluidData const& data = equation(species).data();
    auto const cold = saturation(species, data.least_temperature_k);
    if (!cold)
        return tl::unexpected(cold.error());
    double const critical = data.critical_density_mol_m3 * data.molar_mass_kg_mol;
    bool const vapour = density_kg_m3 < critical;
    auto const of = [&](Saturation const& s) { return vapour ? s.vapour_kg_m3 : s.liquid_kg_m3; };
    if (!(density_kg_m3 > 0.0) || (vapour && density_kg_m3 < cold->vapour_kg_m3))
        return fail(
            Code::out_of_range, "density",
            fmt::format("{:.4g} kg/m3 is thinner than {} vapour at its triple point ({:.3f} K, {:.4f} "
                        "kg/m3): on cooling it would freeze out below that, not liquefy",
                        density_kg_m3, data.name, data.least_temperature_k, cold->vapour_kg_m3));
    if (!vapour && density_kg_m3 > cold->liquid_kg_m3)
        return fail(Code::out_of_range, "density",
                    fmt::format("{:.1f} kg/m3 is denser than liquid {} at its triple point", density_kg_m3,
                                data.name));

    // ln of the density against T is smooth: regula falsi with halving (Illinois) between the two ends.
    double low = data.least_temperature_k, high = data.critical_temperature_k * (1.0 - 1e-6);
    auto const top = saturation(species, high);
    if (!top)
        return tl::unexpected(top.error());
    double f_low = std::log(of(*cold) / density_kg_m3), f_high = std::log(of(*top) / density_kg_m3);
    if (f_low * f_high > 0.0)
        return fail(Code::out_of_range, "density",
                    fmt::format("{:.2f} kg/m3 is within a part in a million of the critical temperature",
                                density_kg_m3));
    Saturation at = *cold;
    for (int step = 0; step < 200 && f_low != 0.0; ++step) {
        double middle = (low * f_high - high * f_low) / (f_high - f_low);
        if (step % 4 == 3)
            middle = 0.5 * (low + high);
        auto const s = saturation(species, middle);
        if (!s)
            return s;
        at = *s;
        double const f = std::log(of(at) / density_kg_m3);
        if (std::fabs(f) < 2e-15 || high - low < 1e-13 * high)
            break;
        if (f * f_low > 0.0) {
            low = middle;
            f_low = f;
            f_high *= 0.5;
        } else {
            high = middle;
            f_high = f;
            f_low *= 0.5;
        }
    }
    return at;
}

} // namespace isochore::gas
