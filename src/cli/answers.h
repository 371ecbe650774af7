#pragma once
#include "cli/commands.h"
#include "files/checklist_file.h"
#include "json/value.h"

namespace isochore::cli {

/// Prints every fault of a report on a line of its own; returns how many.
int say_faults(std::ostream& out, std::vector<Error> const& faults);

/// Prints one answer for scripts, laid out for people too.
void say_json(std::ostream& out, Json const& answer);

} // namespace isochore::cli
