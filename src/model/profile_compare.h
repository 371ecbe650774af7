#pragma once
#include "model/profile.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::model {

/// One difference between two profiles.
struct ProfileDifference {
    enum class Kind {
        physical, ///< a quantity that is another one, whatever it is written in
        choice,   ///< a word, text or count
        written,  ///< the same quantity written otherwise ("6.16 bar abs" for "0.616 MPa abs")
        backing,  ///< source or confidence
    };
    Kind kind = Kind::physical;
    std::string path, label;
    std::string a, b;               ///< as shown; empty where a profile has no such value
    double share = 0.0;             ///< physical: (b - a) / a, NaN where there is no such quotient
    std::optional<double> step_k{}; ///< of temperatures, in the place of a share: b - a
    /// "+12.30 %", "-12.0 K"; empty where there is neither.
    [[nodiscard]] std::string amount() const;
};
[[nodiscard]] char const* kind_name(ProfileDifference::Kind kind);

/// All differences, physical ones first: pressures are compared as densities at 20 degC, so that gauge and
/// absolute, bar and psi do not hide or invent a difference.
[[nodiscard]] std::vector<ProfileDifference> compare(Profile const& a, Profile const& b);

} // namespace isochore::model
