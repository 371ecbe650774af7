#pragma once
#include "session/workspace.h"

namespace isochore::session {

/// Takes a photo or document into the attachments beside the store, by its SHA-256, and records name and
/// hash at an attach step. A file that cannot be read or kept changes nothing.
[[nodiscard]] Result<std::string> attach_file(Workspace& workspace, Outage& outage, std::string_view step,
                                              disk::Path const& file);

} // namespace isochore::session
