#include "gas/moisture.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::gas {
namespace {

using Code = Error::Code;

// IAPWS R7-97(2012), table 34.
constexpr double n[10] = {0.11670521452767e4,  -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5,
                          -0.32325550322333e7, 0.14915108613530e2,  -0.48232657361591e4, 0.40511340542057e6,
                          -0.23855557567849,   0.65017534844798e3};

/// ln p over ice and its derivative by temperature.
struct IceLog {
    double value, slope;
};

IceLog ice_log(double temperature_k)
{
    // IAPWS R14-08(2011), eq. 6 and table 2.
    constexpr double a[3] = {-0.212144006e2, 0.273203819e2, -0.610598130e1};
    constexpr double b[3] = {0.333333333e-2, 0.120666667e1, 0.170333333e1};
    double const theta = temperature_k / water_triple_k;
    double value = 0.0, slope = 0.0;
    for (int i = 0; i < 3; ++i) {
        double const term = a[i] * std::pow(theta, b[i] - 1.0);
        value += term;
        slope += term * (b[i] - 1.0) / temperature_k;
    }
    return {std::log(water_triple_pa) + value, slope};
}

} // namespace

Result<double> ice_vapour_pressure_pa(double temperature_k)
{
    if (!(temperature_k >= 50.0 && temperature_k <= water_triple_k))
        return fail(
            Code::out_of_range, "temperature",
            fmt::format("{:.2f} K is outside 50 K to 273.16 K, where ice has a vapour pressure formula",
                        temperature_k));
    return std::exp(ice_log(temperature_k).value);
}

Result<double> water_vapour_pressure_pa(double temperature_k)
{
    if (!(temperature_k >= 273.15 && temperature_k <= 647.096))
        return fail(
            Code::out_of_range, "temperature",
            fmt::format("{:.2f} K is outside 273.15 K to 647.096 K, where liquid water has a vapour pressure "
                        "formula",
                        temperature_k));
    double const theta = temperature_k + n[8] / (temperature_k - n[9]);
    double const a = theta * theta + n[0] * theta + n[1];
    double const b = n[2] * theta * theta + n[3] * theta + n[4];
    double const c = n[5] * theta * theta + n[6] * theta + n[7];
    return 1e6 * std::pow(2.0 * c / (-b + std::sqrt(b * b - 4.0 * a * c)), 4);
}

Result<double> condensation_temperature_k(double vapour_pressure_pa)
{
    if (!(vapour_pressure_pa >= 1e-9 && vapour_pressure_pa <= 22.064e6))
        return fail(
            Code::out_of_range, "vapour_pressure",
            fmt::format("{:.3g} Pa is no partial pressure of water that condenses at a known temperature",
                        vapour_pressure_pa));
    if (vapour_pressure_pa > water_triple_pa) {
        double const beta = std::pow(vapour_pressure_pa / 1e6, 0.25);
        double const e = beta * beta + n[2] * beta + n[5];
        double const f = n[0] * beta * beta + n[3] * beta + n[6];
        double const g = n[1] * beta * beta + n[4] * beta + n[7];
        double const d = 2.0 * g / (-f - std::sqrt(f * f - 4.0 * e * g));
        double const sum = n[9] + d;
        return 0.5 * (sum - std::sqrt(sum * sum - 4.0 * (n[8] + n[9] * d)));
    }
    double const target = std::log(vapour_pressure_pa);
    double temperature = 1.0 / (1.0 / water_triple_k - (target - std::log(water_triple_pa)) / 6140.0);
    for (int i = 0; i < 30; ++i) {
        IceLog const at = ice_log(temperature);
        double const step = (target - at.value) / at.slope;
        temperature += step;
        if (std::fabs(step) < 1e-12 * temperature)
            break;
    }
    return temperature;
}

Result<double> vapour_pressure_at_point_pa(double point_k)
{
    return point_k < water_triple_k ? ice_vapour_pressure_pa(point_k) : water_vapour_pressure_pa(point_k);
}

} // namespace isochore::gas
