#include "calc/registry.h"

namespace isochore::calc {

std::span<Calculation const> sensor_calculations()
{
    return {};
}

} // namespace isochore::calc
