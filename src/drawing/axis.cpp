#include "drawing/axis.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

bool drawable(double value)
{
    return std::isfinite(value) && std::abs(value) <= largest_drawable;
}

void Extent::take(double value)
{
    if (!drawable(value))
        return;
    low = any ? std::min(low, value) : value;
    high = any ? std::max(high, value) : value;
    any = true;
}

namespace {

double nice_step(double range, int most)
{
    double const raw = range / std::max(1, most - 1);
    double const power = std::pow(10.0, std::floor(std::log10(raw)));
    for (double const factor : {1.0, 2.0, 5.0})
        if (factor * power >= raw * (1.0 - 1e-9))
            return factor * power;
    return 10.0 * power;
}

std::string tick_text(double value, double step)
{
    if (std::abs(value) >= 1e6 || step < 1e-5)
        return fmt::format("{:.3g}", value);
    int const decimals = std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
    return fmt::format("{:.{}f}", value, decimals);
}

/// Ends that differ by enough to divide.
void make_usable(double& low, double& high)
{
    if (!drawable(low) || !drawable(high)) {
        low = 0.0;
        high = 1.0;
    }
    if (low > high)
        std::swap(low, high);
    double const size = std::max(std::abs(low), std::abs(high));
    if (high - low <= size * 1e-9 || high == low) {
        double const half = size > 0.0 ? size * 0.05 : 0.5;
        low -= half;
        high += half;
    }
}

} // namespace

Axis nice_axis(double low, double high, int most, bool grow)
{
    make_usable(low, high);
    double const step = nice_step(high - low, std::max(2, most));
    Axis axis;
    axis.low = grow ? std::floor(low / step + 1e-9) * step : low;
    axis.high = grow ? std::ceil(high / step - 1e-9) * step : high;
    double const first = std::ceil(axis.low / step - 1e-9);
    double const last = std::floor(axis.high / step + 1e-9);
    for (double n = first; n <= last && axis.ticks.size() < 64; n += 1.0) {
        double const value = n == 0.0 ? 0.0 : n * step;
        axis.ticks.push_back(value);
        axis.texts.push_back(tick_text(value, step));
    }
    return axis;
}

Axis decade_axis(double low, double high, int most, std::function<std::string(double)> const& text)
{
    auto const usable = [](double value) { return drawable(value) && value > 1.0 / largest_drawable; };
    if (!usable(low))
        low = usable(high) ? high / 10.0 : 1.0;
    if (!usable(high))
        high = low * 10.0;
    if (low > high)
        std::swap(low, high);
    int const first = static_cast<int>(std::floor(std::log10(low) + 1e-9));
    int const last = std::max(first + 1, static_cast<int>(std::ceil(std::log10(high) - 1e-9)));
    Axis axis;
    axis.decades = true;
    axis.low = std::pow(10.0, first);
    axis.high = std::pow(10.0, last);
    int const every = (last - first + std::max(2, most) - 2) / (std::max(2, most) - 1);
    for (int decade = last; decade >= first; decade -= std::max(1, every)) {
        axis.ticks.insert(axis.ticks.begin(), std::pow(10.0, decade));
        axis.texts.insert(axis.texts.begin(), text(axis.ticks.front()));
    }
    return axis;
}

} // namespace isochore::drawing
