#include "calc/fill_account.h"
#include "calc/fill_topup.h"
#include "calc/registry.h"
#include <array>

namespace isochore::calc {
namespace {

constexpr std::array calculations = {
    Calculation{"fill.target", "pressure to fill to at this gas temperature", fill_target},
    Calculation{"fill.topup", "gas to add, with its uncertainty", fill_topup},
    Calculation{"fill.account", "where the gas of a fill went", fill_account},
};

} // namespace

std::span<Calculation const> fill_calculations()
{
    return calculations;
}

} // namespace isochore::calc
