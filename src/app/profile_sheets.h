#pragma once
#include "app/desk.h"

/// What the sheets of one profile show; the actions are the page's.
namespace isochore::app {

/// Status, filling and what it comes down to; the picture is the page's.
[[nodiscard]] screens::StepView summary_sheet(Desk& desk, files::LibraryEntry const& entry);
/// All values by group with source and confidence, the faults of each beside it.
[[nodiscard]] screens::TableView values_sheet(Desk& desk, files::LibraryEntry const& entry);
/// What follows from the values, and how.
[[nodiscard]] screens::TableView derived_sheet(Desk& desk, files::LibraryEntry const& entry);
/// All revisions of the model with parent, author and signatures, the newest first.
[[nodiscard]] screens::TableView history_sheet(Desk& desk, files::LibraryEntry const& entry);

} // namespace isochore::app
