#pragma once
#include <string>

namespace isochore::uncertainty {

/// How a result is held against a limit (JCGM 106:2012, 8). guarded: pass only when the whole 95 % interval
/// is on the good side, fail only when it is all on the bad side. simple: the value alone decides.
enum class Rule { guarded, simple };
enum class Outcome { pass, fail, undecided };
enum class Side { at_most, at_least };

struct Decision {
    Outcome outcome = Outcome::undecided;
    bool limit_inside = false;    ///< the limit lies inside the 95 % interval
    double expanded_needed = 0.0; ///< the U at which the guarded rule would decide
};

/// Holds a value with its 95 % interval against a limit.
[[nodiscard]] Decision decide(double value, double low, double high, double limit, Side side, Rule rule);

[[nodiscard]] char const* rule_name(Rule rule);

} // namespace isochore::uncertainty
