#include "calc/leak_hold.h"
#include "calc/usual.h"
#include "uncertainty/interval.h"
#include "uncertainty/line_fit.h"
#include "uncertainty/student.h"
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace isochore::calc {
namespace {

/// U, as a share of the limit, at which a tight part passes 19 times in 20: its value scatters by 1.645 u to
/// one side, and value and U = 1.96 u together must stay below the limit.
double tight_share()
{
    constexpr double always = std::numeric_limits<double>::infinity();
    double const both_sides = uncertainty::coverage_95(always);
    return both_sides / (both_sides + uncertainty::student_quantile(uncertainty::level, always));
}

} // namespace

double hold_needed(Held const& held, double limit_kg_s)
{
    double const apart = std::fabs(limit_kg_s - held.leak_kg_s);
    double const least = usual_si("leak.decay", "tell_apart", Dimension::fraction) * limit_kg_s;
    bool const seen = held.leak_kg_s > held.expanded_kg_s;
    double const wanted = seen ? std::fmax(apart, least) : tight_share() * limit_kg_s;
    double const hold = uncertainty::hold_for(wanted / held.volume_m3, held.scatter_kg_m3, held.spacing_s);
    return std::fmax(hold, held.elapsed_s);
}

std::string duration_text(double seconds)
{
    if (seconds < 2.0 * 3600.0)
        return fmt::format("{:.0f} min", seconds / 60.0);
    if (seconds < 3.0 * 86400.0)
        return fmt::format("{:.1f} h", seconds / 3600.0);
    return fmt::format("{:.0f} days", seconds / 86400.0);
}

} // namespace isochore::calc
