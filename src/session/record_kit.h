#pragma once
#include "language/words.h"
#include "report/record_document.h"
#include "session/outage.h"

namespace isochore::session {

/// What was ticked off and which calibration dates were typed, each with who and when; parts of the plan
/// that nobody ticked are named under it. No rows where nothing of it is recorded.
[[nodiscard]] report::RecordTable kit_table(Outage const& outage, language::Words const& words);

/// The own parts that the outage took, with their figures and source.
[[nodiscard]] report::RecordTable parts_table(Outage const& outage, language::Words const& words);

/// A deviation for each reading taken with an instrument past its calibration date.
[[nodiscard]] std::vector<report::Deviation> past_instrument_deviations(Outage const& outage,
                                                                           language::Words const& words = {});

} // namespace isochore::session
