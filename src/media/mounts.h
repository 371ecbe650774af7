#pragma once
#include "disk/disk.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::media {

/// One line of /proc/self/mountinfo (proc(5)), as far as it matters here.
struct Mount {
    std::string device_number; ///< "8:17"
    disk::Path point;
    std::string type;   ///< "vfat", "exfat", "fuseblk"
    std::string source; ///< "/dev/sdb1"
    bool read_only = false;
};

/// Lines that cannot be read are left out.
[[nodiscard]] std::vector<Mount> read_mounts(std::string_view mountinfo);

} // namespace isochore::media
