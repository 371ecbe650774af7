#pragma once
#include "calc/inputs.h"
#include "gas/species.h"

namespace isochore::calc {

/// The required input "gas"; SF6 is returned where it is refused.
[[nodiscard]] inline gas::Species read_gas(Inputs& in)
{
    std::string const name = in.text("gas");
    if (in.error())
        return gas::Species::sf6;
    auto const species = gas::species_by_name(name, in.place("gas"));
    if (species)
        return *species;
    in.refuse(species.error().code, "gas", species.error().detail);
    return gas::Species::sf6;
}

/// An error of the gas layer, its place turned into that of the input of the same name.
[[nodiscard]] inline tl::unexpected<Error> at_input(Error error)
{
    if (!error.where.starts_with("inputs."))
        error.where = "inputs." + error.where;
    return tl::unexpected<Error>(std::move(error));
}

} // namespace isochore::calc
