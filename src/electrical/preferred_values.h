#pragma once
#include <span>
#include <vector>

namespace isochore::electrical {

enum class ESeries { e12, e24, e96 };

/// Preferred values of one decade, 10 to 91 (E12, E24) or 100 to 976 (E96). Source: IEC 60063.
[[nodiscard]] std::span<int const> decade(ESeries series);

/// Preferred values in ohm within [low, high], ascending. Empty when none is inside or low > high.
[[nodiscard]] std::vector<double> preferred_values(ESeries series, double low_ohm, double high_ohm);

/// Power ratings of resistors in W that dealers keep, ascending. Common practice, no source.
[[nodiscard]] std::span<double const> common_power_ratings_w();

} // namespace isochore::electrical
