#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include "language/places.h"
#include "session/evaluate.h"
#include <optional>

namespace isochore::session {

/// A value of a measure step, typed or recorded, and what was expected of it.
struct ReadingInHand {
    std::optional<Amount> read;
    std::optional<Prediction> expected;
};
/// As the journal has it.
[[nodiscard]] ReadingInHand reading_of(model::Step const& step, model::StepRecord const& record);

/// The picture a step names, from what the outage knows and what is in hand (`result` and `inputs` of a
/// calculation, stored or just computed, null where there is none; `reading` of a measure step); nullopt
/// where there is nothing to draw yet. The same pictures stand on screen and in the record; without `words`
/// they speak English.
[[nodiscard]] std::optional<drawing::Picture>
step_picture(Context const& context, model::Step const& step, Json const& result, Json const& inputs,
             drawing::Space space, drawing::MeasureText const& measure, language::Translate const& words = {},
             ReadingInHand const& reading = {});

} // namespace isochore::session
