#pragma once
#include "disk/disk.h"

namespace isochore::disk {

/// A system error number as an Error in words: what was being done ("write"), to which path, and why it
/// failed. Codes: not_found, denied (exists already, read-only, no permission, a link), device (gone), io.
[[nodiscard]] Error system_error(int number, std::string_view doing, Path const& path);

} // namespace isochore::disk
