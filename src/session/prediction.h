#pragma once
#include "session/resolve.h"
#include "json/value.h"
#include <optional>
#include <string>
#include <string_view>

namespace isochore::session {

/// What a reading should be, worked out before it is taken, in the SI unit of the step's dimension.
struct Prediction {
    double value = 0.0, low = 0.0, high = 0.0; ///< 95 % interval; low = high = value where none is known
    PressureReference reference = PressureReference::none;
    Unit const* unit = nullptr; ///< in which it is said; not stored
    std::string text;           ///< "4.94 bar g (95 %: 4.90 to 4.98)"
};

/// The prediction of a measure step from what is recorded so far, said in `unit` ("psi g") or the first one
/// of the step; nullopt where there is none (yet).
[[nodiscard]] std::optional<Prediction> predict(Context const& context, model::Step const& step,
                                                std::string_view unit = {});
/// "psi g": the unit of a value as it would be typed again.
[[nodiscard]] std::string unit_as_typed(Amount const& amount);

/// As the journal keeps it beside the reading.
[[nodiscard]] Json to_json(Prediction const& prediction);
/// What the journal kept; nullopt where that is none.
[[nodiscard]] std::optional<Prediction> stored_prediction(Json const& stored);

} // namespace isochore::session
