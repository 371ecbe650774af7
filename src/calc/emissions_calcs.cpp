#include "calc/registry.h"

namespace isochore::calc {

std::span<Calculation const> emissions_calculations()
{
    return {};
}

} // namespace isochore::calc
