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

/// Enters a set that was written and verified in the journal.
[[nodiscard]] Result<void> enter_stick(Outage& outage, disk::Path const& target,
                                       media::VerifiedSet const& set);

/// All of it at once, for scripts: write, verify what is on the target now, enter.
[[nodiscard]] Result<media::VerifiedSet> write_stick(Workspace& workspace, Outage& outage,
                                                     disk::Path const& target,
                                                     media::Progress const& progress = {});

} // namespace isochore::session
