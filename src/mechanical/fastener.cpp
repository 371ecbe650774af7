#include "mechanical/fastener.h"
#include <cmath>
#include <numbers>

namespace isochore::mechanical {

using Code = Error::Code;

double stress_area_m2(ScrewSize const& size)
{
    double const d = size.diameter_m - (size.unified ? 0.9743 : 0.9382) * size.pitch_m;
    return std::numbers::pi / 4.0 * d * d;
}

double proof_load_n(ScrewSize const& size, ScrewGrade const& grade)
{
    return grade.proof_pa * stress_area_m2(size);
}

double shear_limit_n(ScrewSize const& size, ScrewGrade const& grade)
{
    return 0.577 * grade.yield_pa * stress_area_m2(size);
}

double tightening_torque_nm(double nut_factor, double diameter_m, double preload_n)
{
    return nut_factor * diameter_m * preload_n;
}

double sheet_pull_out_n(double sheet_m, double diameter_m, double sheet_tensile_pa)
{
    return 0.85 * sheet_m * diameter_m * sheet_tensile_pa;
}

Result<FastenerLoads> shock_loads(ShockCase const& c, std::string_view where)
{
    std::string const place(where);
    if (c.count < 2)
        return fail(Code::out_of_range, place + ".count",
                    "one fastener lets the box turn: use at least two (common practice, no source)");
    if (!(c.mass_kg > 0.0))
        return fail(Code::out_of_range, place + ".mass",
                    "must be above zero: weigh the unit with its cables");
    if (!(c.acceleration_m_s2 > 0.0))
        return fail(Code::out_of_range, place + ".shock", "must be above zero");
    if (c.standoff_m < 0.0)
        return fail(Code::out_of_range, place + ".standoff",
                    "cannot be negative: measure wall to centre of mass");
    if (!(c.spacing_m > 0.0))
        return fail(Code::out_of_range, place + ".spacing",
                    "must be above zero: measure between the rows of fasteners");
    double const force_n = c.mass_kg * c.acceleration_m_s2;
    FastenerLoads loads;
    loads.pull_n = force_n / c.count;
    loads.shear_n = force_n / c.count;
    loads.tilt_n = force_n * c.standoff_m / c.spacing_m / (c.count / 2);
    return loads;
}

} // namespace isochore::mechanical
