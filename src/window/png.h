#pragma once
#include "quantity/result.h"
#include <cstdint>
#include <string>
#include <vector>

namespace isochore::window {

/// Writes 8-bit RGB rows, top row first. io when the file cannot be written.
[[nodiscard]] Result<void> write_png(std::string const& path, int width, int height,
                                     std::vector<std::uint8_t> const& rgb);

} // namespace isochore::window
