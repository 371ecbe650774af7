#include "uncertainty/line_fit.h"
#include "uncertainty/student.h"
#include <cmath>
#include <limits>

namespace isochore::uncertainty {

Result<LineFit> fit_line(std::span<double const> t, std::span<double const> y, double least_scatter)
{
    std::size_t const n = t.size();
    if (n < 2 || y.size() != n)
        return fail(Error::Code::no_solution, "series", "a line needs at least two readings");
    LineFit fit;
    fit.readings = static_cast<int>(n);
    double const count = static_cast<double>(n);
    for (std::size_t i = 0; i < n; ++i) {
        fit.centre_t += t[i] / count;
        fit.centre_y += y[i] / count;
    }
    double sum_ty = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        double const dt = t[i] - fit.centre_t;
        fit.sum_tt += dt * dt;
        sum_ty += dt * (y[i] - fit.centre_y);
    }
    if (!(fit.sum_tt > 0.0))
        return fail(Error::Code::no_solution, "series", "all readings were taken at the same time");
    fit.slope = sum_ty / fit.sum_tt;
    double squares = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        double const miss = y[i] - fit.at(t[i]);
        squares += miss * miss;
    }
    fit.degrees_of_freedom = count - 2.0;
    fit.scatter = n > 2 ? std::sqrt(squares / fit.degrees_of_freedom) : 0.0;
    if (fit.scatter < least_scatter) {
        fit.scatter = least_scatter;
        fit.degrees_of_freedom = std::numeric_limits<double>::infinity();
        fit.from_instrument = true;
    }
    if (n == 2 && !fit.from_instrument)
        return fail(
            Error::Code::no_solution, "series",
            "two readings give a line but not how sure it is: take a third, or give the uncertainties of "
            "the instruments");
    fit.u_slope = fit.scatter / std::sqrt(fit.sum_tt);
    fit.u_centre = fit.scatter / std::sqrt(count);
    return fit;
}

double LineFit::band_95(double t) const
{
    double const dt = t - centre_t;
    return coverage_95(degrees_of_freedom) * std::sqrt(u_centre * u_centre + dt * dt * u_slope * u_slope);
}

double slope_u_even(double scatter, double spacing, double readings)
{
    return scatter / spacing * std::sqrt(12.0 / (readings * (readings * readings - 1.0)));
}

double hold_for(double wanted, double scatter, double spacing)
{
    if (!(wanted > 0.0) || !(spacing > 0.0))
        return std::numeric_limits<double>::infinity();
    double few = 3.0, many = 3.0;
    auto const reached = [&](double n) {
        return coverage_95(n - 2.0) * slope_u_even(scatter, spacing, n) <= wanted;
    };
    while (!reached(many)) {
        few = many;
        many *= 2.0;
        if (many > 1e12)
            return std::numeric_limits<double>::infinity();
    }
    while (many - few > 1.0 && many - few > 1e-4 * many) {
        double const middle = std::floor(0.5 * (few + many));
        (reached(middle) ? many : few) = middle;
    }
    return (many - 1.0) * spacing;
}

} // namespace isochore::uncertainty
