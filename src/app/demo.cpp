#include "app/start.h"
#include "seal/people.h"

namespace isochore::app {

Result<std::unique_ptr<session::Outage>> begin_demo(session::Workspace& workspace)
{
    seal::People people(workspace.journal());
    auto const known = people.all();
    if (!known)
        return tl::unexpected(known.error());
    if (known->empty())
        if (auto const added = people.add(demo_supervisor.name, seal::Role::supervisor, demo_supervisor.pin,
                                          {}, workspace.clock().now().utc_ms);
            !added)
            return tl::unexpected(added.error());
    auto const outages = workspace.outages();
    if (!outages)
        return tl::unexpected(outages.error());
    if (!outages->empty())
        return workspace.resume(outages->front().job, {});
    session::NewOutage setup;
    setup.facts = {{"station", "Alder Ferry"}, {"bay", "Q07"},        {"serial", "41-0387"},
                   {"job_no", "AF-Q07-112"},   {"window", "240 min"}, {"altitude", "85 m"}};
    setup.crew = {"N. Quill", "I. Brandt"};
    setup.who = setup.crew.front();
    return workspace.begin("kd-41", setup);
}

} // namespace isochore::app
