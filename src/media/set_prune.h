#pragma once
#include "disk/disk.h"
#include "quantity/result.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::media {

inline constexpr int sets_kept = 3;

/// Removes a set folder: its manifest first, so that it stops being a set at once, then every other plain
/// file with a safe name, then the folder. Anything else in it is left, and so is the folder.
[[nodiscard]] Result<void> remove_set(disk::Disk& disk, disk::Path const& set);

struct PruneReport {
    std::vector<std::string> removed, notes;
};

/// Keeps the newest three sets that have a manifest and removes the others: older
/// sets and what interrupted writes left behind. Failing to remove one is a note, never an error.
[[nodiscard]] PruneReport prune_sets(disk::Disk& disk, disk::Path const& target);

} // namespace isochore::media
