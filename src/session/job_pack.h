#pragma once
#include "session/workspace.h"

namespace isochore::session {

/// The job pack of an outage as PDF bytes: what to bring by kind, the time plan against the window with the
/// chance of finishing (calc kit.plan), the cautions, and what the survey has not found out yet.
/// Errors: as kit.plan (a window that cannot be read) and report::job_pack_pdf.
[[nodiscard]] Result<std::string> job_pack_of(Outage const& outage);

/// Writes it to data/packs/JOB-NNN.pdf under a name not used before; returns the file.
[[nodiscard]] Result<disk::Path> write_job_pack(Workspace& workspace, Outage const& outage);

} // namespace isochore::session
