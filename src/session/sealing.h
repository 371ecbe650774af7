#pragma once
#include "seal/keys.h"
#include "seal/people.h"
#include "language/words.h"
#include "session/workspace.h"

namespace isochore::session {

/// What the supervisor's signature means, shown before and printed with it.
inline constexpr std::string_view signature_meaning =
    "I have reviewed this record, worst first. What was deferred or overridden is known to me and accepted. "
    "The breaker can be handed back.";

/// What stands between now and signing; empty when it may be signed.
[[nodiscard]] std::vector<model::Deviation> blocks_signing(Outage const& outage);

/// Enters the signature of a person whose PIN was checked, closes the last two steps (review and sign), then
/// seals: the record (canonical JSON, signed by the tablet) and its PDF in `folder`, read back, and the
/// entry that says so. `strokes` is the drawn signature as JSON, may be empty.
/// Errors: denied (open deviations, not a supervisor), io; until the last entry is made nothing is sealed
/// and the same call can be made again.
struct SealedFiles {
    disk::Path record, pdf;
    std::string record_hash;
};
[[nodiscard]] Result<SealedFiles> sign_and_seal(Workspace& workspace, Outage& outage,
                                                seal::Person const& person, std::string strokes,
                                                disk::Path const& folder, language::Words const& words = {});

/// Where sealed records of this tablet go: data/records/JOB.
[[nodiscard]] disk::Path record_folder(Workspace const& workspace, Outage const& outage);

/// Hashes of the texts an outage is pinned to, for the record.
[[nodiscard]] std::vector<std::string> pinned_hashes(Outage const& outage);

} // namespace isochore::session
