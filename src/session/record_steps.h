#pragma once
#include "language/words.h"
#include "report/record_document.h"
#include "session/outage.h"

namespace isochore::session {

/// The stages of the record: every step that applies, with its value, limit, verdict, corrections, working
/// and pictures. The pictures keep hold of outage and words.
[[nodiscard]] std::vector<report::RecordStage> record_stages(Outage const& outage,
                                                             language::Words const& words);

/// The mark of a step's status, and of a verdict's name, on paper.
[[nodiscard]] drawing::Mark paper_mark(model::StepStatus status, std::string_view verdict);

/// "2026-11-25 14:05 +00:00": date, time and zone of a stamp.
[[nodiscard]] std::string paper_time(std::string const& stamp);

/// What was recorded at a step, as typed, or the answer's words, or the main results.
[[nodiscard]] std::string recorded_value(Outage const& outage, model::Step const& step,
                                         language::Words const& words = {});

} // namespace isochore::session
