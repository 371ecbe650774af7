#pragma once
#include "quantity/result.h"
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::mechanical {

/// A screw thread as data: family and size, and what can be measured on it.
struct Thread {
    std::string id;       ///< "G 3/8", "NPT 1/2", "M20x1.5", "UN 9/16-18"
    std::string family;   ///< "G", "R", "Rc", "Rp", "NPT", "M", "UN"
    double major_m = 0.0; ///< of a taper: at the gauge plane (R) or of the pipe (NPT)
    double pitch_m = 0.0;
    double flank_deg = 60.0;
    double taper = 0.0; ///< change of diameter with length; 1/16 for R, Rc and NPT
    bool seals_in_thread = false;
    [[nodiscard]] double threads_per_inch() const { return 0.0254 / pitch_m; }
};

/// Height, pitch and minor diameter of a 55 degree Whitworth thread.
/// Formula h = 0.640327 P, d2 = d - h, d1 = d - 2 h. Source: ISO 228-1.
struct WhitworthDiameters {
    double height_m, pitch_m, minor_m;
};
[[nodiscard]] WhitworthDiameters whitworth_diameters(double major_m, double pitch_m);

/// Pitch diameter at the small end and effective thread length of an American taper pipe thread, m.
/// Formula E0 = D - (0.05 D + 1.1)/n, L2 = (0.8 D + 6.8)/n, in inches. Source: ASME B1.20.1.
struct NptDimensions {
    double e0_m, l2_m;
};
[[nodiscard]] NptDimensions npt_dimensions(double pipe_od_m, double threads_per_inch);

/// Difference of two diameters `distance` apart along the axis.
[[nodiscard]] double taper_difference_m(Thread const& thread, double distance_m);

} // namespace isochore::mechanical
