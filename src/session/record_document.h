#pragma once
#include "language/words.h"
#include "session/outage.h"
#include <string>
#include <string_view>

namespace isochore::session {

/// The record of an outage as PDF bytes: what was done, deviations worst first, every step with its value,
/// limit and verdict, pictures, the hash of the sealed record as text and as QR code; in the
/// language of the words. The same outage gives the same bytes.
[[nodiscard]] Result<std::string> record_pdf_of(Outage const& outage, std::string_view record_hash,
                                                std::string_view public_key, std::string_view fingerprint,
                                                language::Words const& words = {});

} // namespace isochore::session
