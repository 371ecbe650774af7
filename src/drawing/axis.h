#pragma once
#include <cmath>
#include <functional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// Numbers beyond this size are treated as not there: no reading of this trade comes near.
inline constexpr double largest_drawable = 1e15;
[[nodiscard]] bool drawable(double value);

/// A scale with round ticks.
struct Axis {
    double low = 0.0, high = 1.0;
    std::vector<double> ticks;
    std::vector<std::string> texts; ///< one for each tick, all with the same number of decimals
    bool decades = false;           ///< equal steps are equal factors; both ends are above zero

    /// 0 at `low`, 1 at `high`; not a number where the scale has no such value.
    [[nodiscard]] double share(double value) const
    {
        return decades ? std::log10(value / low) / std::log10(high / low) : (value - low) / (high - low);
    }
};

/// An axis over [low, high] with at most `most` ticks (never fewer than two) at steps of 1, 2 or 5 times a
/// power of ten. With `grow` the ends move out to ticks; otherwise they stay and ticks lie inside. Equal,
/// reversed and undrawable ends are made usable; the axis is always valid.
[[nodiscard]] Axis nice_axis(double low, double high, int most, bool grow);

/// An axis of whole decades around [low, high], both above zero, with at most `most` ticks on powers of ten;
/// `text` writes one. Ends that are not above zero or not drawable are made usable.
[[nodiscard]] Axis decade_axis(double low, double high, int most,
                               std::function<std::string(double)> const& text);

/// The smallest and largest drawable value met so far.
struct Extent {
    double low = 0.0, high = 0.0;
    bool any = false;
    void take(double value);
};

} // namespace isochore::drawing
