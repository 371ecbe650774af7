#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/profile_answers.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

/// Every file of a folder by itself.
Result<void> check_files(disk::Disk& disk, disk::Path const& folder, std::size_t& checked,
                         std::vector<Error>& faults)
{
    auto const items = disk.list(folder);
    if (!items)
        return tl::unexpected(items.error());
    for (auto const& item : *items) {
        if (!item.regular || !item.name.ends_with(".json"))
            continue;
        ++checked;
        auto const entry = read_profile_file(disk, folder / item.name);
        if (!entry)
            faults.push_back(entry.error());
        else
            faults.insert(faults.end(), entry->faults.begin(), entry->faults.end());
    }
    return {};
}

/// All folders, then as one library, so that saves which contradict one another are found too.
Result<std::vector<Error>> check_library(disk::Disk& disk, Places const& places, ProfileOptions const& o,
                                         std::size_t& checked)
{
    std::vector<Error> faults;
    auto const folders = profile_folders(places, o);
    for (std::size_t i = 0; i < folders.size(); ++i)
        if (i == 0 || disk.exists(folders[i])) // nothing may have been made here yet
            if (auto const read = check_files(disk, folders[i], checked, faults); !read)
                return tl::unexpected(read.error());
    // What cannot be read as a profile is named above with every fault; left are the contradictions.
    for (auto const& error : library_read(disk, places, o).errors)
        if (error.code == Error::Code::denied)
            faults.push_back(error);
    return faults;
}

/// A file is checked whatever state it is in; an id must be in the library.
Result<files::LibraryEntry> named_entry(disk::Disk& disk, Places const& places, ProfileOptions const& o,
                                        std::string const& name)
{
    return names_a_file(name) ? read_profile_file(disk, name) : find_profile(disk, places, o, name);
}

} // namespace

int profile_check_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    std::size_t checked = 0;
    std::vector<Error> faults;
    if (o.names.empty()) {
        auto found = check_library(*disk, places, o, checked);
        if (!found)
            return say_error(out, found.error(), o.json);
        faults = std::move(*found);
    }
    for (auto const& name : o.names) {
        auto const entry = named_entry(*disk, places, o, name);
        if (!entry)
            return say_error(out, entry.error(), o.json);
        ++checked;
        faults.insert(faults.end(), entry->faults.begin(), entry->faults.end());
    }
    if (o.json) {
        say_json(out, {{"checked", checked}, {"faults", files::to_json(faults)}});
    } else {
        say_faults(out, faults);
        out << fmt::format("{} profiles checked, {} faults\n", checked, faults.size());
    }
    return faults.empty() ? 0 : 1;
}

} // namespace isochore::cli
