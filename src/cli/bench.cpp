#include "cli/bench.h"
#include "quantity/near_names.h"

namespace isochore::cli {
namespace {

/// Where no outage has that name, those whose names come near.
Error with_near_jobs(session::Workspace& workspace, std::string const& job, Error error)
{
    if (error.code != Error::Code::not_found || error.where != job)
        return error;
    std::vector<std::string> names;
    if (auto const outages = workspace.outages())
        for (auto const& outage : *outages)
            names.push_back(outage.job);
    error.detail += near_it(job, names);
    return error;
}

} // namespace

Result<std::shared_ptr<Bench>> open_bench(Places const& places)
{
    if (places.bench && places.bench->workspace)
        return places.bench;
    auto bench = places.bench ? places.bench : std::make_shared<Bench>();
    auto workspace = session::Workspace::open(places.folders(), *bench->clock, *bench->disk);
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
    auto& outage = (*bench)->outage;
    if (!outage || outage->job() != options.job) {
        auto resumed = (*bench)->workspace->resume(options.job, options.who);
        if (!resumed)
            return tl::unexpected(with_near_jobs(*(*bench)->workspace, options.job, resumed.error()));
        outage = std::move(*resumed);
    } else {
        outage->set_who(options.who.empty() ? outage->state().entering : options.who);
    }
    return OpenJob{*bench, outage.get()};
}

} // namespace isochore::cli
