#pragma once
#include <string>

namespace isochore::calc {

/// A hold so far, in SI.
struct Held {
    double leak_kg_s = 0.0, expanded_kg_s = 0.0, volume_m3 = 0.0;
    double scatter_kg_m3 = 0.0, spacing_s = 0.0, elapsed_s = 0.0;
};

/// Time to hold in all until the answer is clear, at the same spacing and scatter. A leak that is seen must
/// be told from the limit. One that is not seen is taken as none; its value so far is chance and says nothing
/// about the time.
[[nodiscard]] double hold_needed(Held const& held, double limit_kg_s);

/// "18 min", "5.2 h", "12 days".
[[nodiscard]] std::string duration_text(double seconds);

} // namespace isochore::calc
