#pragma once
#include "disk/disk.h"
#include "quantity/result.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::media {

/// Folders looked into at most, the newest first: a hostile stick could hold any number of them.
inline constexpr std::size_t most_sets = 100;

/// One set folder found on a stick, by number, as the disk spells it.
struct FoundSet {
    int number = 0;
    std::string name; ///< as found; set_name(number) up to case
};

/// Our folder on a target and the sets in it, newest first; nothing but real directories is taken.
struct StickFolder {
    disk::Path path;            ///< of the folder ISOCHORE
    std::vector<FoundSet> sets; ///< newest first
    int highest = 0;            ///< highest number met, whatever stands behind it
};

/// Errors: not_found where there is no such folder, denied where it is a link or a file, io.
[[nodiscard]] Result<StickFolder> find_stick_folder(disk::Disk& disk, disk::Path const& target);

} // namespace isochore::media
