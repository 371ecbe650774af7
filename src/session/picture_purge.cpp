#include "drawing/air_left.h"
#include "drawing/frost_line.h"
#include "drawing/leak_found.h"
#include "gas/moisture.h"
#include "session/picture_parts.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

constexpr double zero_c = 273.15, bar = 1e5;

std::string celsius(double kelvin, double half = 0.0)
{
    return half > 0.0 ? fmt::format("{:.1f} ± {:.1f} °C", kelvin - zero_c, half)
                      : fmt::format("{:.1f} °C", kelvin - zero_c);
}

} // namespace

std::optional<drawing::Picture> probe_picture(PictureQuestion const& q)
{
    double const one = q.figure("detectable_annual"), all = q.figure("undetected_annual");
    if (!std::isfinite(one) || !std::isfinite(all))
        return std::nullopt;
    drawing::LeakFound found;
    found.one_g = one * 1e3;
    found.all_g = all * 1e3;
    if (double const spots = q.input("spots", Dimension::count); spots > 1.0)
        found.all_label = q.words("all {} spots together", {fmt::format("{:.0f}", spots)});
    else
        q.say({&found.all_label});
    if (double const limit = q.figure("limit_annual"); std::isfinite(limit)) {
        found.limit_g = limit * 1e3;
        found.limit_label = q.words("limit {}", {fmt::format("{:.3g} g", limit * 1e3)});
    }
    q.say({&found.one_label, &found.hidden_label, &found.shown_label});
    q.say(found.x_titles);
    return drawing::leak_found(found, q.space, q.measure);
}

std::optional<drawing::Picture> dilution_picture(PictureQuestion const& q)
{
    double const residual = q.figure("residual_air");
    double const cycles = q.input("cycles", Dimension::count);
    if (!std::isfinite(residual) || !(cycles >= 1.0) || cycles > 1000.0)
        return std::nullopt;
    drawing::AirLeft air;
    int const count = static_cast<int>(std::lround(cycles));
    // Each cycle leaves the same share of what was there before.
    for (int n = 0; n <= count; ++n)
        air.shares.push_back(std::pow(residual, static_cast<double>(n) / count));
    // Air is not the only thing that lowers the purity, but all of it does.
    if (auto const purity = q.context.profile.amount("gas.purity_limit")) {
        air.limit = 1.0 - purity->si;
        air.limit_label = q.words("limit {}", {drawing::share_text(*air.limit)});
    }
    air.result_label =
        q.words("{} after cycle {}", {drawing::share_text(air.shares.back()), fmt::format("{}", count)});
    q.say(air.x_titles);
    q.say(air.y_titles);
    return drawing::air_left(air, q.space, q.measure);
}

std::optional<drawing::Picture> moisture_picture(PictureQuestion const& q)
{
    double const point = q.figure("frost_point"), gas_pa = q.figure("gas_pressure"),
                 cell_pa = q.figure("cell_pressure"), share = q.figure("ppmv") / 1e6;
    if (!std::isfinite(point) || !(gas_pa > 0.0) || !(share > 0.0))
        return std::nullopt;
    drawing::FrostLine frost;
    constexpr int steps = 48;
    double const top = std::max(gas_pa, std::isfinite(cell_pa) ? cell_pa : gas_pa) * 1.04;
    for (int i = 1; i <= steps; ++i) {
        double const pa = top * i / steps;
        if (auto const t = gas::condensation_temperature_k(share * pa); t && pa > 0.3 * bar)
            frost.line.push_back({pa / bar, *t - zero_c});
    }
    double const half = q.half_width("frost_point");
    frost.at_gas = drawing::Point{gas_pa / bar, point - zero_c};
    frost.at_gas_u95 = half;
    frost.gas_label = q.words("{} in the breaker", {celsius(point, half)});
    if (std::isfinite(cell_pa) && std::abs(cell_pa - gas_pa) > 1.0)
        if (auto const read = gas::condensation_temperature_k(share * cell_pa)) {
            frost.read = drawing::Point{cell_pa / bar, *read - zero_c};
            frost.read_u95 = q.half_width("point_read");
            frost.read_label = q.words("read {}", {celsius(*read)});
        }
    frost.line_label = fmt::format("{:.3g} ppmv", share * 1e6);
    if (double const limit = q.input("limit", Dimension::temperature); std::isfinite(limit)) {
        frost.limit_c = limit - zero_c;
        frost.limit_label =
            q.words("limit {}", {fmt::format("{:g} °C", std::round(10.0 * *frost.limit_c) / 10.0)});
    }
    q.say(frost.x_titles);
    q.say(frost.y_titles);
    return drawing::frost_line(frost, q.space, q.measure);
}

} // namespace isochore::session
