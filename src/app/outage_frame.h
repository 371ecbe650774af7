#pragma once
#include "app/desk.h"

namespace isochore::app {

/// The line along the top and the title block: the same on every sheet of an outage.
void frame_outage(Desk& desk, screens::SheetView& sheet, std::string_view current_stage);

/// Outside an outage: only the product line.
void frame_plain(screens::SheetView& sheet);

/// The mark that stands for a step's status on every list.
/// What is done without a limit to hold it against is recorded, not passed.
[[nodiscard]] screens::Mark mark_of(model::StepStatus status, std::string_view verdict = {});
[[nodiscard]] screens::Mark mark_of_verdict(std::string_view verdict);

/// "0 h 38 / 2 h 00": used and planned of the window; before it "preparing".
[[nodiscard]] std::string time_used(Desk& desk);

} // namespace isochore::app
