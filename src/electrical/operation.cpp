#include "electrical/operation.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::electrical {
namespace {

using Code = Error::Code;

/// Between samples n-1 and n: the middle, with the spread of an even distribution over the interval.
Instant between(Comtrade const& r, std::size_t n)
{
    double const a = r.times_s[n - 1];
    double const b = r.times_s[n];
    return {0.5 * (a + b), (b - a) / std::sqrt(12.0)};
}

std::string about(std::string const& name, char const* what)
{
    return fmt::format("channel \"{}\" {}", name, what);
}

std::optional<std::size_t> first_beyond(AnalogChannel const& c, double threshold)
{
    for (std::size_t n = 0; n < c.values.size(); ++n)
        if (std::fabs(c.values[n]) > threshold)
            return n;
    return std::nullopt;
}

} // namespace

double peak(AnalogChannel const& c)
{
    double most = 0.0;
    for (double v : c.values)
        if (!std::isnan(v))
            most = std::max(most, std::fabs(v));
    return most;
}

Result<Instant> first_on(Comtrade const& r, DigitalChannel const& c)
{
    auto const on = [&](std::size_t n) { return (c.values[n] != 0) != c.normal; };
    if (c.values.empty() || on(0))
        return fail(Code::no_solution, "record",
                    about(c.name,
                          "is already on at the first sample: the record starts too late, give it more "
                          "pre-trigger time"));
    for (std::size_t n = 1; n < c.values.size(); ++n)
        if (on(n))
            return between(r, n);
    return fail(Code::no_solution, "record", about(c.name, "never comes on"));
}

Result<Instant> first_above(Comtrade const& r, AnalogChannel const& c, double threshold)
{
    auto const n = first_beyond(c, threshold);
    if (!n)
        return fail(Code::no_solution, "record", about(c.name, "never reaches its threshold"));
    if (*n == 0)
        return fail(Code::no_solution, "record",
                    about(c.name, "is already above its threshold at the first sample: give the record more "
                                  "pre-trigger time"));
    Instant at = between(r, *n);
    at.time_s += c.skew_s;
    return at;
}

Result<ContactChange> contact_change(Comtrade const& r, DigitalChannel const& c, double from_s)
{
    std::optional<std::size_t> first, last;
    for (std::size_t n = 1; n < c.values.size(); ++n)
        if (c.values[n] != c.values[n - 1] && r.times_s[n] > from_s) {
            first = first ? first : n;
            last = n;
        }
    if (!first)
        return fail(Code::no_solution, "record", about(c.name, "does not change after the trip"));
    return ContactChange{between(r, *first), between(r, *last), c.values.back() != 0};
}

Result<Instant> current_begins(Comtrade const& r, AnalogChannel const& c, double threshold)
{
    return first_above(r, c, threshold);
}

Result<Instant> current_ends(Comtrade const& r, AnalogChannel const& c, double threshold)
{
    std::optional<std::size_t> last;
    for (std::size_t n = 0; n < c.values.size(); ++n)
        if (std::fabs(c.values[n]) > threshold)
            last = n;
    if (!last)
        return fail(Code::no_solution, "record", about(c.name, "carries no current above the threshold"));
    // A current may pass the threshold at its own zero, so the end needs half a cycle of quiet after it.
    double const half_cycle = r.frequency_hz > 0.0 ? 0.5 / r.frequency_hz : 0.0;
    if (*last + 1 >= c.values.size() || r.times_s.back() - r.times_s[*last] < half_cycle)
        return fail(Code::no_solution, "record",
                    about(c.name, "still carries current at the end of the record"));
    std::size_t const next = *last + 1;
    double const step = r.times_s[next] - r.times_s[*last];
    double const here = c.values[*last];
    double const there = c.values[next];
    double share = 0.5; // a missing sample leaves the middle
    if (!std::isnan(there)) {
        double const fall = here - there;
        // Straight on to zero: within the interval when the sign changes, past it when a rest remains.
        share = fall != 0.0 ? std::clamp(here / fall, 0.0, 2.0) : 1.0;
    }
    return Instant{r.times_s[*last] + share * step + c.skew_s, step / std::sqrt(12.0)};
}

} // namespace isochore::electrical
