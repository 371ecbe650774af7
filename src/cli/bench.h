#pragma once
#include "cli/commands.h"

namespace isochore::cli {

/// A workspace with its clock and disk, for one command.
struct Bench {
    session::SystemClock clock;
    std::unique_ptr<disk::Disk> disk = disk::system_disk();
    std::unique_ptr<session::Workspace> workspace;
};
[[nodiscard]] Result<std::unique_ptr<Bench>> open_bench(Places const& places);

/// The bench with one outage opened.
struct OpenJob {
    std::unique_ptr<Bench> bench;
    std::unique_ptr<session::Outage> outage;
};
[[nodiscard]] Result<OpenJob> open_job(Places const& places, JobOptions const& options);

} // namespace isochore::cli
