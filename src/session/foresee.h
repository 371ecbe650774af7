#pragma once
#include "session/evaluate.h"
#include <optional>

namespace isochore::session {

/// What a calculation that takes a step's value would answer, before the value is recorded.
struct Foreseen {
    model::Step const* step = nullptr; ///< the compute step
    Evaluation evaluation;             ///< its answer, or the problem that the value makes
};

/// The first calculation of the checklists that takes the value of `source` directly and has all else it
/// needs; nullopt where there is none. Asked with every key that is typed: nothing is recorded.
[[nodiscard]] std::optional<Foreseen> foresee(Context const& context, model::Step const& source,
                                              std::string_view value);

} // namespace isochore::session
