#pragma once
#include "files/checklist_file.h"

namespace isochore::files {

/// Refuses steps that wait for one another in a circle, through needs, whole stages, conditions or the inputs
/// of what they compute: none of them could ever open. Each circle is reported once, with the way round it.
void check_circles(model::Checklists const& checklists, FileReport& report);

} // namespace isochore::files
