#pragma once
#include "media/signing.h"
#include "media/stick_set.h"
#include "session/workspace.h"

namespace isochore::session {

/// A key this tablet believes, with who decided it.
struct KnownKey {
    media::TrustedKey key;
    bool own = false;     ///< this tablet's: always believed
    std::string added_by; ///< empty for the tablet's own
};

/// The engineers' keys a tablet trusts, and the newest set met from each, kept as entries of the journal job
/// "@trust": nothing is ever changed, a removal is one more entry. A key that was removed is unknown again,
/// but what was seen of it is not forgotten.
class TrustStore {
public:
    explicit TrustStore(journal::Journal& store) : m_store(store) {}

    [[nodiscard]] Result<std::vector<KnownKey>> all();
    /// `by` is the name of a person whose PIN was checked (seal/people.h). Errors: invalid_input (no key, no
    /// name), denied (there already).
    [[nodiscard]] Result<void> add(std::string_view key, std::string_view name, std::string_view by,
                                   Now const& now);
    [[nodiscard]] Result<void> remove(std::string_view key, std::string_view by, Now const& now);
    /// Remembers a set that was met, where it is newer than all met of its key: an older one is stale then.
    [[nodiscard]] Result<void> see(media::VerifiedSet const& set, Now const& now);

private:
    friend Result<media::Trust> tablet_trust(Workspace& workspace);
    [[nodiscard]] Result<std::map<std::string, std::string, std::less<>>> seen();
    journal::Journal& m_store;
};

/// The tablet's own key and all it trusts, each with the newest set met. Errors: as load_or_make_key.
[[nodiscard]] Result<std::vector<KnownKey>> known_keys(Workspace& workspace);

} // namespace isochore::session
