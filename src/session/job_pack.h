#pragma once
#include "language/words.h"
#include "report/job_pack_pdf.h"
#include "session/workspace.h"

namespace isochore::session {

/// The job pack of an outage: what to bring by kind with its cost, the time plan against the window with the
/// chance of finishing (calc kit.plan), the cautions, what the survey found and has not found out yet, the
/// instruments' dates, the wires to cut, and the pictures of chain and resistor; in the language of the
/// words, which must outlive it. Errors: as kit.plan (a window that cannot be read).
[[nodiscard]] Result<report::JobPack> job_pack_content(Outage const& outage,
                                                       language::Words const& words = {});
/// The same as PDF bytes. Errors: besides those of report::job_pack_pdf.
[[nodiscard]] Result<std::string> job_pack_of(Outage const& outage, language::Words const& words = {});

/// Writes it to data/packs/JOB-NNN.pdf under a name not used before; returns the file. Another language than
/// English is in the name.
[[nodiscard]] Result<disk::Path> write_job_pack(Workspace& workspace, Outage const& outage,
                                                language::Words const& words = {});

} // namespace isochore::session
