#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include "language/places.h"
#include "session/evaluate.h"
#include <optional>

namespace isochore::session {

/// The picture a step names, from what the outage knows and what is in hand (`result` and `inputs` of a
/// calculation, stored or just computed; null where there is none); nullopt where there is nothing to draw
/// yet. The same pictures stand on screen and in the record; without `words` they speak English.
[[nodiscard]] std::optional<drawing::Picture> step_picture(Context const& context, model::Step const& step,
                                                           Json const& result, Json const& inputs,
                                                           drawing::Space space,
                                                           drawing::MeasureText const& measure,
                                                           language::Translate const& words = {});

} // namespace isochore::session
