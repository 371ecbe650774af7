#pragma once
#include "media/stick_set.h"
#include "media/unit_values.h"
#include "session/workspace.h"

namespace isochore::session {

/// This unit's own values, as far as they are recorded.
[[nodiscard]] media::UnitValues unit_values_of(Outage const& outage);

/// What goes on the stick for an outage: the pinned profile's text and this unit's own values.
/// Errors: missing_input when a unit value is not recorded yet, naming it.
[[nodiscard]] Result<std::vector<media::SetFile>> stick_files(Outage const& outage);

/// Signs with the tablet's key. Errors: as load_or_make_key.
[[nodiscard]] Result<media::Signer> tablet_signer(Workspace& workspace);
/// Trusts this tablet's own key.
[[nodiscard]] Result<media::Trust> tablet_trust(Workspace& workspace);

/// All that a write needs, taken from the store beforehand: the writing itself touches no journal and may run
/// beside the window.
struct StickWork {
    std::vector<media::SetFile> files;
    media::Signer signer;
    media::Trust trust;
    std::string made_at; ///< never as early as the last set this tablet signed
    std::string note;    ///< why that is not the time on the clock; empty: it is
    disk::Path target;
    bool removable = false; ///< a stick that may be unmounted; a plain folder never is
};
[[nodiscard]] Result<StickWork> prepare_stick(Workspace& workspace, std::vector<media::SetFile> files,
                                              disk::Path const& target, bool removable);

/// How far a target could be put away, and what is left to do, in a sentence.
struct PutAway {
    bool safe = false; ///< unmounted: it can be pulled
    std::string say;
};
/// Flushes all and, where it is a stick and the system lets us, unmounts it.
[[nodiscard]] PutAway put_away(disk::Path const& target, bool removable);

/// How a write ended.
struct StickOutcome {
    std::optional<media::VerifiedSet> set; ///< as a reader finds it afterwards
    std::optional<Error> error;            ///< why there is none
    std::string before, before_made_at;    ///< the newest valid set before; empty: none
    bool before_verified = false;          ///< after a failure it was read again and holds
    bool begun = false;                    ///< false: it was refused before anything was touched
    std::vector<std::string> notes;
    PutAway away;
};
/// Writes, verifies what is on the target then, puts it away.
[[nodiscard]] StickOutcome do_stick(disk::Disk& disk, StickWork const& work,
                                    media::Progress const& progress = {});

/// Enters a set that was written and verified in the journal.
[[nodiscard]] Result<void> enter_stick(Outage& outage, disk::Path const& target,
                                       media::VerifiedSet const& set);

/// All of it at once, for scripts: write, verify what is on the target now, enter.
[[nodiscard]] Result<media::VerifiedSet> write_stick(Workspace& workspace, Outage& outage,
                                                     disk::Path const& target,
                                                     media::Progress const& progress = {});

} // namespace isochore::session
