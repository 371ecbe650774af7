#pragma once
#include "quantity/result.h"
#include "uncertainty/input.h"
#include <functional>
#include <span>
#include <vector>

namespace isochore::uncertainty {

/// A measurement model: values of the inputs in their order, to the result.
using Model = std::function<Result<double>(std::span<double const>)>;

struct Contribution {
    std::string name, source;
    double sensitivity = 0.0; ///< d result / d input
    double u = 0.0;           ///< |sensitivity| u(input), in the unit of the result
    double share = 0.0;       ///< of the variance, 0 to 1
};

/// A result with its standard uncertainty and how it is made up, largest share first.
struct Budget {
    double value = 0.0, u = 0.0;
    double degrees_of_freedom = 0.0; ///< effective, Welch-Satterthwaite
    double coverage = 0.0;           ///< factor of the 95 % interval
    std::vector<Contribution> contributions;
    [[nodiscard]] double expanded() const { return coverage * u; }
};

/// First-order propagation of independent inputs: u^2 = sum (c_i u_i)^2, with c_i by central differences.
/// Source  JCGM 100:2008, 5.1.2 and G.4.1.
/// Errors  whatever the model refuses at its best estimate; invalid_input for a negative u.
[[nodiscard]] Result<Budget> first_order(Model const& model, std::span<Input const> inputs);

/// Effective degrees of freedom of a sum of independent parts u_i (JCGM 100, G.2b).
[[nodiscard]] double welch_satterthwaite(std::span<double const> u,
                                         std::span<double const> degrees_of_freedom);

} // namespace isochore::uncertainty
