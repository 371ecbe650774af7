#pragma once
#include "quantity/result.h"
#include <string>

namespace isochore::cli {

/// A PIN for a command, never from its arguments, where every user of the machine could read it: the first
/// line of a file ("-": standard input), or of an open file descriptor (from 0).
/// Errors: missing_input (neither is named, or the line is empty), not_found, io.
[[nodiscard]] Result<std::string> read_pin(std::string const& file, int descriptor);

} // namespace isochore::cli
