#include "cli/bench.h"

namespace isochore::cli {

Result<std::unique_ptr<Bench>> open_bench(Places const& places)
{
    auto bench = std::make_unique<Bench>();
    auto workspace = session::Workspace::open(places.folders(), bench->clock, *bench->disk);
    if (!workspace)
        return tl::unexpected(workspace.error());
    bench->workspace = std::move(*workspace);
    return bench;
}

Result<OpenJob> open_job(Places const& places, JobOptions const& options)
{
    auto bench = open_bench(places);
    if (!bench)
        return tl::unexpected(bench.error());
    auto outage = (*bench)->workspace->resume(options.job, options.who);
    if (!outage)
        return tl::unexpected(outage.error());
    return OpenJob{std::move(*bench), std::move(*outage)};
}

} // namespace isochore::cli
