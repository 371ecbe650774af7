#pragma once
#include "gas/helmholtz.h"
#include "quantity/result.h"
#include <span>
#include <string_view>

namespace isochore::gas {

/// The gases whose reference equation the program carries.
enum class Species { sf6, n2, co2, cf4, air };

[[nodiscard]] std::span<Species const> all_species();
[[nodiscard]] Equation const& equation(Species species);

/// "SF6", "N2", "CO2", "CF4", "Air", as written in files.
[[nodiscard]] std::string_view species_name(Species species);

/// Errors: unknown, with the list of known gases; mixtures are refused by name, because no mixing
/// parameters of reference grade are published for SF6 with N2 or CF4.
[[nodiscard]] Result<Species> species_by_name(std::string_view name, std::string_view where);

[[nodiscard]] double molar_mass_kg_mol(Species species);

} // namespace isochore::gas
