#include "electrical/preferred_values.h"
#include <array>
#include <cmath>

namespace isochore::electrical {
namespace {

constexpr std::array e12{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82};
constexpr std::array e24{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
                         33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91};
constexpr std::array ratings{0.25, 0.5, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 15.0, 25.0, 50.0};

// IEC 60063: E48 and finer follow round(100 * 10^(n/96)); E12 and E24 are older and do not.
std::array<int, 96> const& e96()
{
    static std::array<int, 96> const values = [] {
        std::array<int, 96> v{};
        for (int n = 0; n < 96; ++n)
            v[static_cast<std::size_t>(n)] = static_cast<int>(std::lround(100.0 * std::pow(10.0, n / 96.0)));
        return v;
    }();
    return values;
}

} // namespace

std::span<int const> decade(ESeries series)
{
    switch (series) {
    case ESeries::e12:
        return e12;
    case ESeries::e24:
        return e24;
    case ESeries::e96:
        return e96();
    }
    return e12;
}

std::vector<double> preferred_values(ESeries series, double low_ohm, double high_ohm)
{
    std::vector<double> inside;
    int const first_exponent = series == ESeries::e96 ? 2 : 1;
    for (int exponent = -3; exponent <= 9; ++exponent)
        for (int step : decade(series)) {
            // Scaled by a division where the exponent is negative, so that 4.7 is 47/10 and not 47*0.1.
            double const scale = std::pow(10.0, std::abs(exponent - first_exponent));
            double const value = exponent >= first_exponent ? step * scale : step / scale;
            if (value >= low_ohm && value <= high_ohm)
                inside.push_back(value);
        }
    return inside;
}

std::span<double const> common_power_ratings_w()
{
    return ratings;
}

} // namespace isochore::electrical
