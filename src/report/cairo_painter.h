#pragma once
#include "drawing/picture.h"
#include "report/type.h"
#include <array>
#include <string>

using cairo_t = struct _cairo;

namespace isochore::report {

struct Colour {
    double red = 0.0, green = 0.0, blue = 0.0;
};

/// One colour for each role.
using Palette = std::array<Colour, drawing::ink_count>;

/// Black on white, with the status colours of the print theme; every text colour is at least 7:1 on paper.
[[nodiscard]] Palette const& paper_palette();

/// Paints a picture with its origin at the context's origin, one unit for a millimetre. Items with numbers
/// that are not finite are left out.
void paint(cairo_t* context, drawing::Picture const& picture, Palette const& palette, Type& type);

/// The picture as the bytes of a PNG file at `pixels_per_mm`. Empty when the size is not drawable.
[[nodiscard]] std::string picture_png(drawing::Picture const& picture, Palette const& palette,
                                      double pixels_per_mm, Type& type);

} // namespace isochore::report
