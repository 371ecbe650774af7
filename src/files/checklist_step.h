#pragma once
#include "files/checklist_file.h"
#include "json/value.h"

namespace isochore::files {

/// Reads one step object; all its faults go to the report. What depends on other steps is left to
/// check_links().
[[nodiscard]] model::Step read_step(Json const& json, std::string const& place, FileReport& report);

} // namespace isochore::files
