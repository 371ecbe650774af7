#include "gas/species.h"
#include <array>
#include <fmt/format.h>

namespace isochore::gas {
namespace {

constexpr std::array all = {Species::sf6, Species::n2, Species::co2, Species::cf4, Species::air};

} // namespace

std::span<Species const> all_species()
{
    return all;
}

Equation const& equation(Species species)
{
    static std::array<Equation, 5> const equations = {Equation(sf6_data()), Equation(n2_data()),
                                                      Equation(co2_data()), Equation(cf4_data()),
                                                      Equation(air_data())};
    return equations[static_cast<std::size_t>(species)];
}

std::string_view species_name(Species species)
{
    return equation(species).data().name;
}

double molar_mass_kg_mol(Species species)
{
    return equation(species).data().molar_mass_kg_mol;
}

Result<Species> species_by_name(std::string_view name, std::string_view where)
{
    std::string known;
    for (Species s : all) {
        if (species_name(s) == name)
            return s;
        known += (known.empty() ? "" : ", ") + std::string(species_name(s));
    }
    if (name == "air")
        return Species::air;
    if (name.find('/') != std::string_view::npos || name.find('+') != std::string_view::npos)
        return fail(
            Error::Code::unknown, std::string(where),
            fmt::format("\"{}\" is a mixture: no mixing parameters of reference grade are published for "
                        "it, so no figure is given; known gases are {}",
                        name, known));
    return fail(Error::Code::unknown, std::string(where),
                fmt::format("\"{}\" is not a gas with a reference equation here; known are {}", name, known));
}

} // namespace isochore::gas
