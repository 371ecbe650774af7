#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/profile_answers.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

std::string line_of(files::LibraryEntry const& entry)
{
    auto const& p = entry.profile;
    std::string line = fmt::format("{:<20} r{:<3} {:<10} {}", p.id, p.revision, p.status, p.title);
    if (p.invented)
        line += " (invented)";
    if (!entry.faults.empty())
        line += fmt::format(", {} faults", entry.faults.size());
    return line;
}

} // namespace

int profile_list_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    if (auto const items = disk->list(profile_folders(places, o).front()); !items)
        return say_error(out, items.error(), o.json);
    auto const library = library_read(*disk, places, o);
    files::LibraryFilter filter;
    filter.newest_only = !o.all;
    for (auto const& word : o.names)
        filter.text += word + " ";
    auto const found = files::search(library, filter);
    if (o.json) {
        Json list = Json::array();
        for (auto const* entry : found)
            list.push_back(files::to_json(*entry));
        say_json(out, {{"profiles", list}, {"errors", files::to_json(library.errors)}});
    } else {
        for (auto const* entry : found)
            out << line_of(*entry) << '\n';
        say_faults(out, library.errors);
    }
    return library.errors.empty() ? 0 : 1;
}

} // namespace isochore::cli
