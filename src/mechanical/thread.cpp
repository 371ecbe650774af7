#include "mechanical/thread.h"

namespace isochore::mechanical {

WhitworthDiameters whitworth_diameters(double major_m, double pitch_m)
{
    double const height = 0.640327 * pitch_m;
    return {height, major_m - height, major_m - 2.0 * height};
}

NptDimensions npt_dimensions(double pipe_od_m, double threads_per_inch)
{
    constexpr double inch = 0.0254;
    double const od = pipe_od_m / inch;
    return {(od - (0.05 * od + 1.1) / threads_per_inch) * inch, (0.8 * od + 6.8) / threads_per_inch * inch};
}

double taper_difference_m(Thread const& thread, double distance_m)
{
    return thread.taper * distance_m;
}

} // namespace isochore::mechanical
