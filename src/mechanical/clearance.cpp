#include "mechanical/clearance.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::mechanical {

Result<Clearance> stack_clearance(StackPart const& available, std::vector<StackPart> const& parts,
                                  std::string_view where)
{
    std::string const place(where);
    if (!(available.size_m > 0.0))
        return fail(Error::Code::out_of_range, place + ".depth_available",
                    "must be above zero: measure from the mounting face to the inside of the shut door");
    Clearance c;
    c.nominal_m = available.size_m;
    c.spread_worst_m = available.tolerance_m;
    double squares = available.tolerance_m * available.tolerance_m;
    for (StackPart const& p : parts) {
        if (p.size_m < 0.0 || p.tolerance_m < 0.0)
            return fail(Error::Code::out_of_range, place + ".parts",
                        fmt::format("\"{}\" has a negative size or tolerance: enter plain sizes, the stack "
                                    "subtracts",
                                    p.name));
        c.nominal_m -= p.size_m;
        c.spread_worst_m += p.tolerance_m;
        squares += p.tolerance_m * p.tolerance_m;
    }
    c.spread_rss_m = std::sqrt(squares);
    return c;
}

double visible_share(SightCase const& c)
{
    double const seen = 0.5 * c.window_m * (c.eye_distance_m + c.gap_m) / c.eye_distance_m;
    double const low = std::max(-seen, c.offset_m - 0.5 * c.display_m);
    double const high = std::min(seen, c.offset_m + 0.5 * c.display_m);
    return std::clamp((high - low) / c.display_m, 0.0, 1.0);
}

} // namespace isochore::mechanical
