#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/profile_import.h"
#include "session/profile_transfer.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {

int profile_export_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    if (auto const there = disk->list(o.target); !there)
        return say_error(out, there.error(), o.json);
    auto const library = library_read(*disk, places, o);
    auto const filter = library_filter(o);
    if (auto const unknown = unknown_facet(library, filter); !unknown)
        return say_error(out, unknown.error(), o.json);
    auto const found = files::search(library, filter);
    if (found.empty())
        return say_error(out, {Error::Code::not_found, o.target, "no profile is found by that"}, o.json);
    auto const lines = session::export_profiles(*disk, o.target, found);
    if (!lines)
        return say_error(out, lines.error(), o.json);
    Json list = Json::array();
    bool refused = false;
    for (auto const& line : *lines) {
        bool const known = !line.taken && line.why == files::import_known;
        refused = refused || (!line.taken && !known);
        if (o.json)
            list.push_back({{"file", line.file},
                            {"id", line.id},
                            {"revision", line.revision},
                            {"written", line.taken},
                            {"why", line.why}});
        else
            out << fmt::format("{}: {}\n", line.file, line.taken ? "written" : line.why);
    }
    if (o.json)
        say_json(out, list);
    return refused ? 1 : 0;
}

} // namespace isochore::cli
