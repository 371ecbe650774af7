#pragma once
#include "drawing/marks.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// A mass with its 95 % half width, kg.
struct AccountedMass {
    std::string name; ///< "into the breaker"
    double mass_kg = 0.0, u95_kg = 0.0;
};

/// Where the gas went: what came out of the cylinder, the parts found again, one behind the other, and what
/// is left over.
struct MassAccount {
    AccountedMass out{"out of the cylinder", 0.0, 0.0};
    std::vector<AccountedMass> found;              ///< those without mass are left out
    AccountedMass rest{"handling loss", 0.0, 0.0}; ///< below zero: more was found than came out
    Mark verdict = Mark::none;
    std::vector<std::string> x_titles{"kilograms, each bar behind the last", "kilograms", "kg"};
};

[[nodiscard]] Picture mass_account(MassAccount const& account, Space space, MeasureText const& measure);

} // namespace isochore::drawing
