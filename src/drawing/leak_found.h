#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// What a search for leaks would have shown, against the limit, over a scale of decades; g a year.
struct LeakFound {
    double one_g = 0.0; ///< the largest leak that one spot can hide
    double all_g = 0.0; ///< that all spots together can hide
    std::optional<double> limit_g;
    std::string one_label = "one spot";
    std::string all_label = "all spots together";
    std::string limit_label; ///< "limit 0.5 %/yr: 120 g/yr"
    std::string hidden_label = "could hide";
    std::string shown_label = "would have shown";
    std::vector<std::string> x_titles{"leak, grams a year", "grams a year", "g/yr"};
};

[[nodiscard]] Picture leak_found(LeakFound const& found, Space space, MeasureText const& measure);

} // namespace isochore::drawing
