#include "media/set_prune.h"
#include "media/set_names.h"
#include "media/stick_folder.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::media {
namespace {

bool is_manifest(disk::Disk::Item const& item)
{
    return item.regular && upper_case(item.name) == manifest_name;
}

Result<bool> has_manifest(disk::Disk& disk, disk::Path const& set)
{
    auto const items = disk.list(set);
    if (!items)
        return tl::unexpected(items.error());
    return std::any_of(items->begin(), items->end(), is_manifest);
}

} // namespace

Result<void> remove_set(disk::Disk& disk, disk::Path const& set)
{
    auto const items = disk.list(set);
    if (!items)
        return tl::unexpected(items.error());
    for (auto const& item : *items)
        if (is_manifest(item)) {
            if (auto const gone = disk.remove(set / item.name); !gone)
                return gone;
            if (auto const flushed = disk.flush_directory(set); !flushed)
                return flushed;
        }
    for (auto const& item : *items)
        if (item.regular && !is_manifest(item) && is_safe_name(upper_case(item.name)))
            if (auto const gone = disk.remove(set / item.name); !gone)
                return gone;
    if (auto const gone = disk.remove_directory(set); !gone)
        return gone;
    return disk.flush_directory(set.parent_path());
}

PruneReport prune_sets(disk::Disk& disk, disk::Path const& target)
{
    PruneReport report;
    auto const folder = find_stick_folder(disk, target);
    if (!folder) {
        report.notes.push_back(fmt::format("old sets were not removed: {}", folder.error().detail));
        return report;
    }
    int kept = 0;
    for (auto const& found : folder->sets) {
        auto const name = set_name(found.number);
        auto const whole = has_manifest(disk, folder->path / found.name);
        if (!whole) // what cannot be looked into is not removed
            report.notes.push_back(fmt::format("the old set {} was left: {}", name, whole.error().detail));
        if (!whole || (*whole && kept < sets_kept)) {
            ++kept;
            continue;
        }
        if (auto const gone = remove_set(disk, folder->path / found.name); gone)
            report.removed.push_back(name);
        else
            report.notes.push_back(fmt::format("the old set {} was left: {}", name, gone.error().detail));
    }
    return report;
}

} // namespace isochore::media
