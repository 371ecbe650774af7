#include "uncertainty/decision.h"
#include <cmath>

namespace isochore::uncertainty {

Decision decide(double value, double low, double high, double limit, Side side, Rule rule)
{
    Decision decision;
    if (!std::isfinite(value) || !std::isfinite(low) || !std::isfinite(high))
        return decision;
    bool const good = side == Side::at_most ? value <= limit : value >= limit;
    bool const all_good = side == Side::at_most ? high <= limit : low >= limit;
    bool const all_bad = side == Side::at_most ? low > limit : high < limit;
    decision.limit_inside = !all_good && !all_bad;
    decision.expanded_needed = std::fabs(limit - value);
    if (rule == Rule::simple)
        decision.outcome = good ? Outcome::pass : Outcome::fail;
    else
        decision.outcome = all_good ? Outcome::pass : all_bad ? Outcome::fail : Outcome::undecided;
    return decision;
}

char const* rule_name(Rule rule)
{
    return rule == Rule::guarded ? "guarded" : "simple";
}

} // namespace isochore::uncertainty
