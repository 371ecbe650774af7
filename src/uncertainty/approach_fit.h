#pragma once
#include "quantity/result.h"
#include <span>

namespace isochore::uncertainty {

/// y = plateau - rise exp(-(t - t_first)/time_constant), fitted robustly.
struct ApproachFit {
    double plateau = 0.0, rise = 0.0, time_constant = 0.0;
    double t_first = 0.0, t_last = 0.0;
    double scatter = 0.0; ///< robust standard deviation of one reading about the curve
    double u_plateau = 0.0, u_rise = 0.0, u_time_constant = 0.0;
    double degrees_of_freedom = 0.0;
    int readings = 0, outliers = 0;
    bool flat = false; ///< no rise to be seen: the plateau is the mean and the time constant is unknown
    double covariance[3][3] = {}; ///< of plateau, rise, ln time_constant

    [[nodiscard]] double at(double t) const;
    [[nodiscard]] double remaining(double t) const; ///< plateau - at(t)
    [[nodiscard]] double u_at(double t) const;
    [[nodiscard]] double u_remaining(double t) const;
    [[nodiscard]] double band_95(double t) const;
};

/// Fits the approach. For each time constant plateau and rise follow by linear least squares, so only one
/// number is searched; readings far off are weighted down (Tukey's biweight) and counted as outliers.
/// `least_scatter` as for fit_line.
/// Errors  no_solution with fewer than four readings or all at one time.
[[nodiscard]] Result<ApproachFit> fit_approach(std::span<double const> t, std::span<double const> y,
                                               double least_scatter);

} // namespace isochore::uncertainty
