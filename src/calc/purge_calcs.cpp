#include "calc/purge_plateau.h"
#include "calc/registry.h"
#include <array>

namespace isochore::calc {
namespace {

constexpr std::array calculations = {
    Calculation{"purge.plateau", "where the purity settles and whether it has", purge_plateau},
    Calculation{"purge.dilution", "air left after vent-and-fill cycles", purge_dilution},
};

} // namespace

std::span<Calculation const> purge_calculations()
{
    return calculations;
}

} // namespace isochore::calc
