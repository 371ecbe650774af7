#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/nameplate_help.h"
#include "files/profile_answers.h"
#include "session/clock.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

using Code = Error::Code;
constexpr std::size_t most_table_bytes = 16u << 20;

/// Adds what standards say where the nameplate does not, unconfirmed and with its source.
Result<void> complete(disk::Disk& disk, disk::Path const& help_file, files::NameplateImport& import)
{
    auto const text = disk.read(help_file, most_profile_bytes);
    if (!text)
        return tl::unexpected(text.error());
    files::FileReport report;
    auto const help = files::read_nameplate_help(*text, help_file.filename().string(), report);
    if (!report.ok())
        return tl::unexpected(report.errors.front());
    for (auto& row : import.rows)
        if (row.taken) {
            row.profile = files::complete_profile(std::move(row.profile), help);
            row.open = files::check_profile(row.profile, row.id).errors;
        }
    return {};
}

/// Stores the drafts. What is in the folder already with other values stays, unless it is to be replaced;
/// a checked or released revision stays in any case.
void store(disk::Disk& disk, disk::Path const& folder, bool replace, files::NameplateImport& import)
{
    auto const library = files::read_library(disk, folder);
    for (auto& row : import.rows) {
        if (!row.taken)
            continue;
        auto const* there = library.find(row.profile.id, row.profile.revision);
        bool const other = there && files::write_profile(there->profile) != files::write_profile(row.profile);
        if (other && !replace)
            row.refused.push_back({Code::denied, row.id,
                                   "the folder has this profile already; --replace puts this draft in the "
                                   "place of a draft"});
        else if (auto const stored = files::store_profile(disk, folder, row.profile); !stored)
            row.refused.push_back(stored.error());
        row.taken = row.refused.empty();
    }
}

int import_table(disk::Disk& disk, Places const& places, disk::Path const& folder, ProfileOptions const& o,
                 std::ostream& out)
{
    auto const text = disk.read(o.source, most_table_bytes);
    if (!text)
        return say_error(out, text.error(), o.json);
    if (o.who.empty())
        return say_error(out, {Code::missing_input, "--who", "say who writes these drafts"}, o.json);
    session::SystemClock clock;
    auto import = files::read_nameplates(*text, disk::Path(o.source).filename().string(), o.who,
                                         session::calendar_day(session::stamp(clock.now())));
    if (o.complete)
        if (auto const done =
                complete(disk, places.share_folder() / "profiles/schema/nameplate.json", import);
            !done)
            return say_error(out, done.error(), o.json);
    store(disk, folder, o.replace, import);
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
            say_faults(out, row.open);
        }
        say_faults(out, import.errors);
    }
    bool const all =
        std::all_of(import.rows.begin(), import.rows.end(), [](auto const& r) { return r.taken; });
    return all && import.errors.empty() ? 0 : 1;
}

int import_folder(disk::Disk& disk, disk::Path const& folder, ProfileOptions const& o, std::ostream& out)
{
    auto const lines = files::import_profiles(disk, o.source, folder);
    Json list = Json::array();
    bool refused = false;
    for (auto const& line : lines) {
        bool const known = line.why == "already there";
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
    auto const folder = profile_folder(places, o);
    if (auto const items = disk->list(folder); !items)
        return say_error(out, items.error(), o.json);
    if (disk->list(o.source))
        return import_folder(*disk, folder, o, out);
    return import_table(*disk, places, folder, o, out);
}

} // namespace isochore::cli
