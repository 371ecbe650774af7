#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/profile_answers.h"
#include "files/profile_import.h"
#include "seal/keys.h"
#include "session/clock.h"
#include "session/profile_transfer.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

/// What a draft still lacks in one line, what breaks a rule each on its own.
void say_open(std::vector<Error> const& open, std::ostream& out)
{
    constexpr std::string_view not_given = ": no value is given";
    std::string lacking;
    std::vector<Error> rest;
    for (auto const& e : open)
        if (e.detail.ends_with(not_given))
            lacking += (lacking.empty() ? "" : ", ") + e.detail.substr(0, e.detail.size() - not_given.size());
        else
            rest.push_back(e);
    say_faults(out, rest);
    if (!lacking.empty())
        out << "  not given yet: " << lacking << '\n';
}

int import_table(disk::Disk& disk, Places const& places, disk::Path const& folder, ProfileOptions const& o,
                 std::ostream& out)
{
    session::SystemClock clock;
    auto const read = session::import_table(
        disk, o.source, places.share_folder() / "profiles/schema/nameplate.json", folder,
        library_read(disk, places, o), session::calendar_day(session::stamp(clock.now())),
        {o.who, o.complete, o.replace});
    if (!read)
        return say_error(out, read.error(), o.json);
    auto const& import = *read;
    if (o.json) {
        say_json(out, files::to_json(import));
    } else {
        for (auto const& row : import.rows) {
            out << fmt::format("line {}: {} {}\n", row.line, row.id,
                               !row.taken ? "refused"
                               : row.open.empty()
                                   ? "taken as a draft"
                                   : fmt::format("taken as a draft, {} still open", row.open.size()));
            say_faults(out, row.refused);
            if (row.taken)
                say_open(row.open, out);
        }
        say_faults(out, import.errors);
    }
    bool const all =
        std::all_of(import.rows.begin(), import.rows.end(), [](auto const& r) { return r.taken; });
    return all && import.errors.empty() ? 0 : 1;
}

int import_folder(disk::Disk& disk, Places const& places, disk::Path const& folder, ProfileOptions const& o,
                  std::ostream& out)
{
    auto const lines =
        files::import_profiles(disk, o.source, folder, library_read(disk, places, o), seal::signature_holds);
    Json list = Json::array();
    bool refused = false;
    for (auto const& line : lines) {
        bool const known = line.why == files::import_known;
        refused = refused || (!line.taken && !known);
        if (o.json)
            list.push_back({{"file", line.file},
                            {"id", line.id},
                            {"revision", line.revision},
                            {"taken", line.taken},
                            {"why", line.why}});
        else
            out << fmt::format("{}: {}\n", line.file, line.taken ? "taken" : line.why);
    }
    if (o.json)
        say_json(out, list);
    return refused ? 1 : 0;
}

} // namespace

int profile_import_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const folder = writable_profiles(*disk, places, o);
    if (!folder)
        return say_error(out, folder.error(), o.json);
    if (disk->list(o.source))
        return import_folder(*disk, places, *folder, o, out);
    return import_table(*disk, places, *folder, o, out);
}

} // namespace isochore::cli
