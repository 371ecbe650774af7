#include "planning/kit.h"
#include <cmath>

namespace isochore::planning {
namespace {

double count_of(std::string const& per, KitCounts const& c)
{
    if (per == "person")
        return c.people;
    if (per == "joint")
        return c.joints;
    if (per == "seal")
        return c.seals;
    if (per == "circuit")
        return c.current_circuits;
    if (per == "input")
        return c.inputs;
    if (per == "fastener")
        return c.fasteners;
    if (per == "bolt")
        return c.bolts;
    if (per == "wire")
        return c.wire_m;
    if (per == "run")
        return c.run_m;
    if (per == "gas")
        return c.gas_kg;
    return 1.0; // job
}

} // namespace

std::optional<KitLine> kit_line(KitRule const& rule, KitCounts const& counts)
{
    double quantity = count_of(rule.per, counts) * rule.each * (1.0 + rule.spare);
    if (!(quantity > 0.0))
        return std::nullopt;
    // A hair under a whole number is that number: 3 x 1.2 is not 4 because of rounding.
    if (rule.unit == "pcs")
        quantity = std::ceil(quantity - 1e-9);
    return KitLine{rule.name, rule.kind, rule.unit, "", rule.source, quantity, quantity * rule.cost};
}

int cylinders_for(double gas_kg, double cylinder_kg, double heel_share)
{
    double const usable = cylinder_kg * (1.0 - heel_share);
    return gas_kg > 0.0 && usable > 0.0 ? static_cast<int>(std::ceil(gas_kg / usable - 1e-9)) : 0;
}

Calibration calibration_state(std::string const& due, std::string const& today, std::string const& job_day)
{
    if (due.empty())
        return Calibration::unknown;
    if (due < today)
        return Calibration::expired;
    return due < job_day ? Calibration::expires_before_job : Calibration::in_date;
}

} // namespace isochore::planning
