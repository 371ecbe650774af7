#pragma once
#include "quantity/result.h"
#include <span>

namespace isochore::uncertainty {

/// A straight line y = centre_y + slope (t - centre_t), fitted by least squares.
struct LineFit {
    double centre_t = 0.0, centre_y = 0.0, slope = 0.0;
    double scatter = 0.0; ///< standard deviation of one reading about the line
    double u_slope = 0.0, u_centre = 0.0;
    double degrees_of_freedom = 0.0; ///< n - 2; infinite where the scatter is that of the instrument
    double sum_tt = 0.0;             ///< sum (t - centre_t)^2
    int readings = 0;
    bool from_instrument = false; ///< readings agree better than the instrument claims: its u is used

    [[nodiscard]] double at(double t) const { return centre_y + slope * (t - centre_t); }
    /// Half width of the 95 % band of the line itself at t.
    [[nodiscard]] double band_95(double t) const;
};

/// Fits a line. `least_scatter` is the standard uncertainty of one reading as far as it may change from
/// reading to reading: readings that agree better than that, by chance or by coarse resolution, do not make
/// the slope better known.
/// Errors  no_solution with fewer than two readings, all at one time, or two readings and no least scatter.
[[nodiscard]] Result<LineFit> fit_line(std::span<double const> t, std::span<double const> y,
                                       double least_scatter);

/// Standard uncertainty of the slope of n evenly spaced readings `spacing` apart with this scatter.
[[nodiscard]] double slope_u_even(double scatter, double spacing, double readings);

/// How long to hold, at the same spacing and scatter, until the 95 % half width of the slope is `wanted`;
/// infinity where that is never.
[[nodiscard]] double hold_for(double wanted, double scatter, double spacing);

} // namespace isochore::uncertainty
