#pragma once
#include "disk/disk.h"
#include "media/mounts.h"
#include "media/stick_finder.h"
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace isochore::media {

/// One block device as sysfs shows it: a whole disk or a partition of one.
struct BlockDevice {
    std::string name;          ///< "sdb1"
    std::string disk;          ///< "sdb": the disk it is a part of; itself for a whole disk
    std::string device_number; ///< "8:17"
    std::uint64_t size = 0;    ///< bytes
    bool removable = false;    ///< of the disk
    bool has_partitions = false;
    std::optional<UsbDevice> usb; ///< from sysfs, where a mass-storage interface (class 08) carries it
    friend bool operator==(BlockDevice const&, BlockDevice const&) = default;
};

/// All of /sys/class/block; what cannot be read is left out.
[[nodiscard]] std::vector<BlockDevice> read_block_devices(disk::Path const& sysfs);

/// Names of the disks that carry the running system: those under /, /boot, /usr, /var, /home and the like,
/// followed through mapped devices (dm-0 has its disks under slaves).
[[nodiscard]] std::set<std::string> system_disks(disk::Path const& sysfs,
                                                 std::vector<BlockDevice> const& devices,
                                                 std::vector<Mount> const& mounts);

} // namespace isochore::media
