#include "cli/answers.h"
#include "cli/bench.h"
#include "cli/stick_commands.h"
#include "media/stick_answers.h"
#include "session/stick.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {

Result<void> fits_target(std::vector<media::SetFile> const& files, std::string const& folder)
{
    auto const view = media::SystemView::of_this_machine();
    if (!view)
        return tl::unexpected(view.error());
    auto const target = media::folder_target(*view, folder);
    if (!target)
        return tl::unexpected(target.error());
    std::uint64_t bytes = 0;
    for (auto const& file : files)
        bytes += file.bytes.size();
    return media::check_room(*target, bytes, files.size());
}

Result<OpenJob> open_outage(Places const& places, StickOptions const& o)
{
    JobOptions job;
    job.job = o.job;
    job.who = o.who;
    return open_job(places, job);
}

int stick_write_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto open = open_outage(places, o);
    if (!open)
        return say_error(out, open.error(), o.json);
    auto const files = session::stick_files(*open->outage);
    if (!files)
        return say_error(out, files.error(), o.json);
    if (auto const fit = fits_target(*files, o.folder); !fit)
        return say_error(out, fit.error(), o.json);
    auto const set = session::write_stick(*open->bench->workspace, *open->outage, o.folder);
    if (!set)
        return say_error(out, set.error(), o.json);
    if (o.json)
        say_json(out, media::to_json(*set));
    else
        out << fmt::format("{}: {} files written to {}, read back and verified, signed with key {}\n",
                           set->set, set->files.size(), o.folder, media::key_fingerprint(set->key));
    if (!o.json)
        for (auto const& note : set->notes)
            out << note << '\n';
    return 0;
}

} // namespace isochore::cli
