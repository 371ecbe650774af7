#pragma once
#include "disk/disk.h"
#include "media/mounts.h"
#include "media/volume_state.h"
#include "quantity/result.h"
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace isochore::media {

/// Where a USB device hangs, and what it calls itself.
struct UsbDevice {
    std::string place; ///< "1-2.3": bus and ports, its name under /sys/bus/usb/devices
    int vendor_id = 0, product_id = 0;
    std::string vendor, product, serial; ///< empty where the device has no such text
    friend bool operator==(UsbDevice const&, UsbDevice const&) = default;
};

struct Space {
    std::uint64_t total = 0, free = 0;
};

/// What of the system is looked at; every part can be another one, which is how it is tested.
struct SystemView {
    disk::Path sysfs = "/sys";
    disk::Path devices = "/dev";
    std::string mountinfo; ///< text of /proc/self/mountinfo
    std::function<Result<Space>(disk::Path const&)> space;
    /// The view of this machine, now.
    [[nodiscard]] static Result<SystemView> of_this_machine();
};

/// A place a set may be written to.
struct StickTarget {
    enum class Use {
        ready,
        not_mounted, ///< a stick without a mounted file system
        read_only,
        refused, ///< a system disk, a disk that is not removable
    };
    Use use = Use::refused;
    std::string block;       ///< "sdb1"; empty for a plain folder
    disk::Path folder;       ///< where it is mounted
    std::string file_system; ///< "exfat"
    std::uint64_t size = 0;  ///< of the block device, bytes
    Space space;             ///< of the file system, where mounted
    std::optional<UsbDevice> usb;
    VolumeState volume;                     ///< unknown where the device may not be read
    std::string why;                        ///< for every use but ready: what is wrong and what to do
    std::vector<std::string> warnings;      ///< dirty, claims more than it has, little room
    [[nodiscard]] std::string name() const; ///< for a list: maker, model, size, or the folder
};

/// What was found, and how well it could be looked.
struct StickSearch {
    std::vector<StickTarget> targets; ///< ready ones first
    std::vector<std::string> notes;   ///< "USB events are not available: …"
};

/// All removable volumes. `usb` are the mass-storage devices libusb knows (usb_watch.h); nothing where libusb
/// cannot be used: then sysfs and mounts alone decide, and a note says so.
[[nodiscard]] StickSearch find_sticks(SystemView const& view,
                                      std::optional<std::vector<UsbDevice>> const& usb);

/// A plain folder as a target. Errors: not_found, denied (not a folder, a link, not writable).
[[nodiscard]] Result<StickTarget> folder_target(SystemView const& view, disk::Path const& folder);

/// Whether a set of so many bytes fits, with room for names and slack of one cluster a file.
/// Errors: denied (not ready), io (too little room), each with the figures.
[[nodiscard]] Result<void> check_room(StickTarget const& target, std::uint64_t bytes, std::size_t files);

} // namespace isochore::media
