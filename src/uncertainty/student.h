#pragma once

namespace isochore::uncertainty {

/// Probability that a t variable with `degrees_of_freedom` lies below t; infinity gives the normal one.
[[nodiscard]] double student_cdf(double t, double degrees_of_freedom);

/// The t for which student_cdf is `probability`; not whole degrees of freedom are allowed (JCGM 100, G.4).
/// NaN for a probability outside (0, 1) or degrees of freedom below 1e-3.
[[nodiscard]] double student_quantile(double probability, double degrees_of_freedom);

/// Coverage factor of a two-sided 95 % interval: 1.960 for infinite degrees of freedom.
[[nodiscard]] double coverage_95(double degrees_of_freedom);

} // namespace isochore::uncertainty
