#pragma once
#include "drawing/picture.h"
#include <string>
#include <vector>

namespace isochore::report {

/// A sheet ready to paint, and the bookmarks that lead to it.
struct Sheet {
    drawing::Picture picture;
    std::vector<std::string> bookmarks;
};

} // namespace isochore::report
