#pragma once
#include "files/profile_csv.h"
#include "files/profile_library.h"
#include "model/profile_compare.h"
#include "model/profile_derived.h"
#include "json/value.h"
#include <vector>

namespace isochore::files {

/// The answers of the profile commands as JSON, for scripts. Numbers are in SI with their shown form beside.
[[nodiscard]] Json to_json(std::vector<Error> const& errors); ///< [{"code","where","detail"}]
[[nodiscard]] Json to_json(model::DerivedProfile const& derived);
[[nodiscard]] Json to_json(std::vector<model::ProfileDifference> const& differences);
[[nodiscard]] Json to_json(NameplateImport const& import);
[[nodiscard]] Json to_json(LibraryEntry const& entry); ///< one line of a list: no values

} // namespace isochore::files
