#pragma once
#include "cli/commands.h"

namespace isochore::cli {

/// A workspace with its clock and disk, for one command or for all those of a script.
struct Bench {
    std::unique_ptr<session::Clock> clock = std::make_unique<session::SystemClock>();
    std::unique_ptr<disk::Disk> disk = disk::system_disk();
    std::unique_ptr<session::Workspace> workspace;
    std::unique_ptr<session::Outage> outage; ///< the one last opened
};
[[nodiscard]] Result<std::shared_ptr<Bench>> open_bench(Places const& places);

/// The bench with one outage opened.
struct OpenJob {
    std::shared_ptr<Bench> bench;
    session::Outage* outage = nullptr; ///< the bench's
};
[[nodiscard]] Result<OpenJob> open_job(Places const& places, JobOptions const& options);

} // namespace isochore::cli
