#pragma once
#include "disk/disk.h"
#include "quantity/result.h"
#include <string>

namespace isochore::media {

/// How far a stick could be put away.
struct Released {
    bool unmounted = false;
    std::string say; ///< what to tell the person: pull it, or eject it first
};

/// Syncs the file system under a mount point and unmounts it where that is allowed.
/// Errors: io where the sync fails: then the stick is not to be trusted; denied where it is still in use.
[[nodiscard]] Result<Released> release_stick(disk::Path const& mount_point);

} // namespace isochore::media
