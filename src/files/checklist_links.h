#pragma once
#include "files/checklist_file.h"

namespace isochore::files {

/// What only the whole can show: stage orders without gap, ids used once, names that lead somewhere, needs
/// that do not form a circle. `known_calcs` are the names of the calculations.
void check_links(model::Checklists const& checklists, std::vector<std::string> const& known_calcs,
                 FileReport& report);

} // namespace isochore::files
