#pragma once
#include "media/stick_finder.h"
#include "media/stick_set.h"
#include "media/unit_values.h"
#include "json/value.h"

namespace isochore::media {

/// The answers of the stick commands as JSON, for scripts.
[[nodiscard]] Json to_json(WrittenSet const& set);
[[nodiscard]] Json to_json(VerifiedSet const& set); ///< names, sizes and hashes; not the contents
[[nodiscard]] Json to_json(std::vector<SetSummary> const& sets);
[[nodiscard]] Json to_json(StickSearch const& search);
[[nodiscard]] Json to_json(UnitValues const& unit);
[[nodiscard]] Json to_json(std::vector<ReadBackRow> const& rows);

} // namespace isochore::media
