#pragma once
#include "media/stick_set.h"
#include "session/workspace.h"

namespace isochore::session {

/// What goes on the stick for an outage: the pinned profile's text and this unit's own values.
/// Errors: missing_input when a unit value is not recorded yet, naming the step.
[[nodiscard]] Result<std::vector<media::SetFile>> stick_files(Workspace& workspace, Outage const& outage);

/// Writes the set, reads it back, and enters it in the journal.
/// Errors: what media::write_set refuses, or the entry could not be made (the set then stands, unentered).
[[nodiscard]] Result<media::WrittenSet> write_stick(Workspace& workspace, Outage& outage,
                                                    disk::Path const& target,
                                                    media::Progress const& progress = {});

} // namespace isochore::session
