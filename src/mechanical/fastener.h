#pragma once
#include "quantity/result.h"
#include <string>
#include <string_view>

namespace isochore::mechanical {

/// A screw thread by diameter and pitch. Unified and metric stress areas use different constants.
struct ScrewSize {
    std::string id; ///< "M6", "1/4-20"
    double diameter_m = 0.0;
    double pitch_m = 0.0;
    bool unified = false;
};

struct ScrewGrade {
    std::string id; ///< "8.8", "SAE 5"
    double proof_pa = 0.0;
    double yield_pa = 0.0;
    double tensile_pa = 0.0;
};

/// Tensile stress area, m2. Formula pi/4 (d - k P)^2 with k = 0.9382 (metric, ISO 898-1) or 0.9743 (unified,
/// ASME B1.1).
[[nodiscard]] double stress_area_m2(ScrewSize const& size);

/// Load that stretches the screw to its proof stress, N.
[[nodiscard]] double proof_load_n(ScrewSize const& size, ScrewGrade const& grade);

/// Single shear through the thread, N. Formula 0.577 (von Mises) x yield x stress area.
[[nodiscard]] double shear_limit_n(ScrewSize const& size, ScrewGrade const& grade);

/// Tightening torque, N m. Formula T = K d F.
[[nodiscard]] double tightening_torque_nm(double nut_factor, double diameter_m, double preload_n);

/// Nominal pull-out of a screw formed in sheet, N. Formula 0.85 t d Fu, AISI S100 (from memory).
[[nodiscard]] double sheet_pull_out_n(double sheet_m, double diameter_m, double sheet_tensile_pa);

/// A box of mass m whose centre stands off the wall, held by `count` fasteners in two rows `spacing` apart.
struct ShockCase {
    int count = 4;
    double mass_kg = 0.0;
    double acceleration_m_s2 = 0.0;
    double standoff_m = 0.0; ///< wall to centre of mass
    double spacing_m = 0.0;  ///< between the rows
};

/// Loads in the worst fastener, N.
struct FastenerLoads {
    double pull_n = 0.0;  ///< shock straight off the wall: m a / n
    double tilt_n = 0.0;  ///< shock along the wall tilts the box: m a h / (s n/2)
    double shear_n = 0.0; ///< shock along the wall: m a / n
    [[nodiscard]] double tension_n() const { return pull_n + tilt_n; }
};

/// Both directions taken at once, which is more than a one-axis shock does. The rows share a tilt with
/// half the fasteners, rounded down.
/// Errors: out_of_range for fewer than two fasteners, or values not above zero (standoff may be zero).
[[nodiscard]] Result<FastenerLoads> shock_loads(ShockCase const& c, std::string_view where);

} // namespace isochore::mechanical
