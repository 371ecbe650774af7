#include "media/stick_folder.h"
#include "media/set_names.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::media {
namespace {

using Code = Error::Code;

/// The name of our folder as the target spells it. Two spellings side by side can only stand on a
/// case-sensitive system, where one of them is not ours.
Result<std::string> spelling_of_folder(disk::Disk& disk, disk::Path const& target)
{
    auto const items = disk.list(target);
    if (!items)
        return tl::unexpected(items.error());
    std::string found;
    for (auto const& item : *items) {
        if (upper_case(item.name) != stick_folder)
            continue;
        if (!item.directory)
            return fail(
                Code::denied, (target / item.name).string(),
                fmt::format("\"{}\" is not a folder but a link or a file; the stick is not used", item.name));
        if (!found.empty())
            return fail(
                Code::denied, target.string(),
                fmt::format("the folders \"{}\" and \"{}\" differ only in case; remove the one that is "
                            "not from this program",
                            found, item.name));
        found = item.name;
    }
    if (found.empty())
        return fail(Code::not_found, target.string(),
                    fmt::format("there is no folder \"{}\": no set was ever written here", stick_folder));
    return found;
}

} // namespace

Result<StickFolder> find_stick_folder(disk::Disk& disk, disk::Path const& target)
{
    auto const name = spelling_of_folder(disk, target);
    if (!name)
        return tl::unexpected(name.error());
    StickFolder folder;
    folder.path = target / *name;
    auto const items = disk.list(folder.path);
    if (!items)
        return tl::unexpected(items.error());
    for (auto const& item : *items) {
        auto const number = set_number(upper_case(item.name));
        if (!number)
            continue;
        folder.highest = std::max(folder.highest, *number);
        if (item.directory)
            folder.sets.push_back({*number, item.name});
    }
    std::sort(folder.sets.begin(), folder.sets.end(),
              [](FoundSet const& a, FoundSet const& b) { return a.number > b.number; });
    if (folder.sets.size() > most_sets)
        folder.sets.resize(most_sets);
    return folder;
}

} // namespace isochore::media
