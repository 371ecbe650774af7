#include "calc/leak_accumulation.h"
#include "calc/leak_decay.h"
#include "calc/leak_forecast.h"
#include "calc/leak_probe.h"
#include "calc/registry.h"
#include <array>

namespace isochore::calc {
namespace {

constexpr std::array calculations = {
    Calculation{"leak.decay", "leak from a log of pressure and temperature", leak_decay},
    Calculation{"leak.accumulation", "leak from the rise of concentration in a bag", leak_accumulation},
    Calculation{"leak.forecast", "time until warn and lockout", leak_forecast},
    Calculation{"leak.probe", "what finding nothing with soap film or detector shows", leak_probe},
};

} // namespace

std::span<Calculation const> leak_calculations()
{
    return calculations;
}

} // namespace isochore::calc
