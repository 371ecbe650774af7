#pragma once
#include "quantity/result.h"
#include <optional>
#include <string>
#include <string_view>

namespace isochore::electrical {

/// A nameplate ratio "1200:5": rated primary and secondary current in A.
struct NameplateRatio {
    double primary_a = 0.0;
    double secondary_a = 0.0;
    [[nodiscard]] double to_one() const { return primary_a / secondary_a; }
};

/// What stands between the primary conductor and the pick-up coil.
struct CurrentPath {
    NameplateRatio main;
    std::optional<NameplateRatio> auxiliary; ///< the coil then sits on the auxiliary CT's secondary
    int turns = 1;                           ///< times the secondary conductor passes through the coil
    bool delta = false;                      ///< the coil sits on a lead of delta-connected secondaries
};

struct PathRatio {
    double ratio = 0.0; ///< primary A per secondary A: main times auxiliary
    double scale = 0.0; ///< primary A per A that the coil reads: ratio / (turns, and sqrt 3 on a delta lead)
};

/// Reads "1200:5", "1200/5" or, as already referred to 1, "240:1". Errors: invalid_input for anything else,
/// out_of_range for a secondary of zero, a negative value, or a ratio below 1 (primary and secondary
/// swapped). Of an auxiliary CT, which may step up, the ratio may be below 1.
[[nodiscard]] Result<NameplateRatio> parse_ratio(std::string_view text, std::string_view where,
                                                 bool may_step_up = false);

/// Refuses a secondary of 0, swapped windings and a ratio below 1; `where` and `name` go into the message.
/// An auxiliary CT may step up, so `may_step_up` allows a ratio below 1 there.
[[nodiscard]] Result<void> check_ratio(NameplateRatio const& ratio, std::string_view where,
                                       bool may_step_up = false);

/// Ratio referred to 1. Formula  ratio = (I1/I2)(I3/I4);  scale = ratio / (N sqrt3 on a delta lead).
/// Units     A:A in, plain numbers out.
/// Errors    as check_ratio; out_of_range for fewer than one turn.
/// Source    definition of the rated transformation ratio, IEEE C57.13; sqrt 3 is the line current of a
///           balanced delta.
[[nodiscard]] Result<PathRatio> path_ratio(CurrentPath const& path, std::string_view where);

} // namespace isochore::electrical
