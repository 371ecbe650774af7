#pragma once
#include "drawing/picture.h"
#include "quantity/result.h"
#include <string>
#include <vector>

namespace isochore::report {

/// The modules of a QR code (ISO/IEC 18004, error correction level M), row by row, true for dark.
/// Errors: out_of_range when the text is too long for a QR code, invalid_input when it is empty.
[[nodiscard]] Result<std::vector<std::vector<bool>>> qr_modules(std::string const& text);

/// Draws a QR code with its quiet zone into the square at `top_left`.
void draw_qr(drawing::Picture& picture, std::vector<std::vector<bool>> const& modules,
             drawing::Point top_left, double side);

} // namespace isochore::report
