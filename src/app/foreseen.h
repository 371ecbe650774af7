#pragma once
#include "app/desk.h"
#include "session/foresee.h"

namespace isochore::app {

/// "Check every joint: within limits" with the figures, for the keypad and the sheet; nullopt where nothing
/// is foreseen.
[[nodiscard]] std::optional<screens::VerdictView> foreseen_view(Desk& desk,
                                                                std::optional<session::Foreseen> const& seen);

/// Shows on the sheet of a step what would follow from the value or answer in hand: verdict, figures and,
/// where the step has no picture of its own, the picture of the calculation.
void show_foreseen(Desk& desk, std::optional<session::Foreseen> const& seen, screens::StepView& view,
                   screens::PictureSpace space);

} // namespace isochore::app
