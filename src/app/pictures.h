#pragma once
#include "screens/views.h"
#include "session/outage.h"
#include <optional>

namespace isochore::app {

/// The picture of a step from what the outage knows now and the evaluation in hand (typed or computed);
/// nullopt where there is nothing to draw yet.
[[nodiscard]] std::optional<drawing::Picture>
step_picture(session::Outage const& outage, model::Step const& step, session::Evaluation const& evaluation,
             screens::PictureSpace space, drawing::MeasureText const& measure);

} // namespace isochore::app
