#pragma once
#include <string>

namespace isochore::files {

/// The JSON Schema (draft 7) of a profile, built from the one list of fields, so that both follow it. The
/// reader also takes typographic spellings of units ("°C"), which the schema leaves out. Published as
/// profiles/schema/profile.schema.json.
[[nodiscard]] std::string profile_schema();

} // namespace isochore::files
