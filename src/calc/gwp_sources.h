#pragma once
#include "quantity/result.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::calc {

/// A published global warming potential of SF6 over 100 years: kg of CO2 a kg of gas.
struct GwpSource {
    std::string id, name;
    double value = 0.0;
    std::string source;
    bool confirmed = false;
};

/// The list of assets/parts/gwp.json, in its order; the first is the one to use where nobody chose.
/// Errors: corrupt when the built-in list cannot be read.
[[nodiscard]] Result<std::vector<GwpSource>> gwp_sources();
/// Errors: unknown, naming the ids there are.
[[nodiscard]] Result<GwpSource> gwp_source(std::string_view id);

} // namespace isochore::calc
