#include "uncertainty/student.h"
#include "uncertainty/interval.h"
#include <cmath>
#include <initializer_list>
#include <limits>

namespace isochore::uncertainty {
namespace {

// Regularised incomplete beta by its continued fraction (modified Lentz).
double incomplete_beta(double a, double b, double x)
{
    if (x <= 0.0)
        return 0.0;
    if (x >= 1.0)
        return 1.0;
    if (x > (a + 1.0) / (a + b + 2.0))
        return 1.0 - incomplete_beta(b, a, 1.0 - x);
    constexpr double tiny = 1e-300;
    double c = 1.0, d = 1.0 / std::fmax(std::fabs(1.0 - (a + b) * x / (a + 1.0)), tiny), fraction = d;
    for (int m = 1; m < 1000; ++m) {
        double const even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        double const odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        double change = 1.0;
        for (double const step : {even, odd}) {
            d = 1.0 / (std::fabs(1.0 + step * d) < tiny ? tiny : 1.0 + step * d);
            c = std::fabs(1.0 + step / c) < tiny ? tiny : 1.0 + step / c;
            change = c * d;
            fraction *= change;
        }
        if (std::fabs(change - 1.0) < 1e-15)
            break;
    }
    double const front =
        std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) + a * std::log(x) + b * std::log1p(-x));
    return front * fraction / a;
}

} // namespace

double student_cdf(double t, double degrees_of_freedom)
{
    if (!(degrees_of_freedom < 1e7))
        return 0.5 * std::erfc(-t / std::sqrt(2.0));
    double const tail = 0.5 * incomplete_beta(0.5 * degrees_of_freedom, 0.5,
                                              degrees_of_freedom / (degrees_of_freedom + t * t));
    return t > 0.0 ? 1.0 - tail : tail;
}

double student_quantile(double probability, double degrees_of_freedom)
{
    if (!(probability > 0.0 && probability < 1.0) || !(degrees_of_freedom >= 1e-3))
        return std::numeric_limits<double>::quiet_NaN();
    if (probability < 0.5)
        return -student_quantile(1.0 - probability, degrees_of_freedom);
    double low = 0.0, high = 1.0;
    while (student_cdf(high, degrees_of_freedom) < probability && high < 1e300)
        high *= 2.0;
    for (int i = 0; i < 200 && high - low > 1e-14 * high; ++i) {
        double const middle = 0.5 * (low + high);
        (student_cdf(middle, degrees_of_freedom) < probability ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

double coverage_95(double degrees_of_freedom)
{
    return student_quantile(1.0 - beyond_each_end, degrees_of_freedom);
}

} // namespace isochore::uncertainty
