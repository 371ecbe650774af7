#include "media/stick_finder.h"
#include "media/block_devices.h"
#include <algorithm>
#include <cerrno>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <sys/statvfs.h>
#include <unistd.h>

namespace isochore::media {
namespace {

using Code = Error::Code;
using Use = StickTarget::Use;

Result<Space> space_of(disk::Path const& folder)
{
    struct statvfs about {};
    if (::statvfs(folder.c_str(), &about) != 0)
        return fail(Code::io, folder.string(), "the free space could not be asked for");
    return Space{static_cast<std::uint64_t>(about.f_blocks) * about.f_frsize,
                 static_cast<std::uint64_t>(about.f_bavail) * about.f_frsize};
}

std::string shown_size(std::uint64_t bytes)
{
    // Sticks are sold in powers of ten.
    if (bytes >= 1'000'000'000)
        return fmt::format("{:.1f} GB", static_cast<double>(bytes) * 1e-9);
    return fmt::format("{:.1f} MB", static_cast<double>(bytes) * 1e-6);
}

/// The first sector of a device; nothing where it may not be read.
VolumeState volume_of(disk::Path const& device)
{
    std::ifstream in(device, std::ios::binary);
    std::string sector(512, '\0');
    if (!in.read(sector.data(), 512))
        return {};
    return read_volume_state(sector);
}

StickTarget refused(StickTarget target, std::string why)
{
    target.use = Use::refused;
    target.why = std::move(why);
    return target;
}

void warn_of_size(StickTarget& target)
{
    if (target.size != 0 && target.volume.bytes > target.size)
        target.warnings.push_back(
            fmt::format("its file system claims {}, the device has {}: it may be a stick of "
                        "false capacity; use another",
                        shown_size(target.volume.bytes), shown_size(target.size)));
}

/// Asked only of a volume nobody writes to: while it is mounted for writing the mark is set by the mount.
void warn_of_dirt(StickTarget& target)
{
    if (target.volume.dirty)
        target.warnings.push_back("it was pulled without being put away; check it before use "
                                  "(fsck.vfat or fsck.exfat)");
}

StickTarget target_of(SystemView const& view, BlockDevice const& device, Mount const* mount, bool system_disk)
{
    StickTarget target;
    target.block = device.name;
    target.size = device.size;
    target.usb = device.usb;
    if (system_disk)
        return refused(std::move(target), "the running system is on this disk; nothing is written to it");
    if (!device.removable)
        return refused(std::move(target),
                       "this disk is not removable; use a stick, or choose a folder on it yourself");
    target.volume = volume_of(view.devices / device.name);
    warn_of_size(target);
    if (!mount) {
        warn_of_dirt(target);
        target.use = Use::not_mounted;
        target.why = "it is not mounted; open it in the file manager, then look again";
        return target;
    }
    target.folder = mount->point;
    target.file_system = mount->type;
    if (auto const space = view.space(mount->point))
        target.space = *space;
    target.use = mount->read_only ? Use::read_only : Use::ready;
    if (mount->read_only) {
        warn_of_dirt(target);
        target.why = "it is mounted read-only: its lock is on, or the system found it damaged";
    }
    return target;
}

Mount const* mount_of(std::vector<Mount> const& mounts, BlockDevice const& device, disk::Path const& devices)
{
    auto const it = std::find_if(mounts.begin(), mounts.end(), [&](Mount const& m) {
        // FUSE mounts have a device number of their own; the source names the block device.
        return m.device_number == device.device_number || m.source == (devices / device.name).string() ||
               m.source == "/dev/" + device.name;
    });
    return it == mounts.end() ? nullptr : &*it;
}

/// Memory disks, loop devices and the like carry no stick.
bool is_worth_showing(BlockDevice const& device, Mount const* mount)
{
    if (device.size == 0 || (device.has_partitions && !mount))
        return false;
    return device.removable || device.usb;
}

void compare_with_libusb(StickSearch& search, std::optional<std::vector<UsbDevice>> const& usb)
{
    if (!usb) {
        search.notes.push_back(
            "USB events are not available; sticks are found by the mounted volumes alone, so "
            "look again after plugging one in");
        return;
    }
    for (auto const& device : *usb) {
        bool const found =
            std::any_of(search.targets.begin(), search.targets.end(),
                        [&](StickTarget const& t) { return t.usb && t.usb->place == device.place; });
        if (!found)
            search.notes.push_back(
                fmt::format("a USB storage device ({:04x}:{:04x} at {}) is plugged in but has no "
                            "volume yet",
                            device.vendor_id, device.product_id, device.place));
    }
}

} // namespace

Result<SystemView> SystemView::of_this_machine()
{
    std::ifstream in("/proc/self/mountinfo");
    if (!in)
        return fail(Code::io, "/proc/self/mountinfo", "the list of mounts could not be read");
    SystemView view;
    view.mountinfo.assign(std::istreambuf_iterator<char>(in), {});
    view.space = space_of;
    return view;
}

std::string StickTarget::name() const
{
    if (block.empty())
        return folder.string();
    std::string text = usb ? usb->vendor + (usb->vendor.empty() ? "" : " ") + usb->product : std::string{};
    if (text.find_first_not_of(' ') == std::string::npos)
        text = block;
    return fmt::format("{}, {}", text, shown_size(size));
}

StickSearch find_sticks(SystemView const& view, std::optional<std::vector<UsbDevice>> const& usb)
{
    StickSearch search;
    auto const devices = read_block_devices(view.sysfs);
    auto const mounts = read_mounts(view.mountinfo);
    auto const system = system_disks(view.sysfs, devices, mounts);
    for (auto const& device : devices) {
        auto const* mount = mount_of(mounts, device, view.devices);
        if (is_worth_showing(device, mount))
            search.targets.push_back(target_of(view, device, mount, system.contains(device.disk)));
    }
    std::stable_sort(search.targets.begin(), search.targets.end(),
                     [](auto const& a, auto const& b) { return a.use < b.use; });
    compare_with_libusb(search, usb);
    return search;
}

Result<StickTarget> folder_target(SystemView const& view, disk::Path const& folder)
{
    std::error_code error;
    auto const status = std::filesystem::symlink_status(folder, error);
    if (!std::filesystem::exists(status))
        return fail(Code::not_found, folder.string(), "there is no such folder");
    if (!std::filesystem::is_directory(status))
        return fail(Code::denied, folder.string(), "this is a link or a file, not a folder");
    if (::access(folder.c_str(), W_OK) != 0)
        return fail(Code::denied, folder.string(),
                    errno == EROFS ? "it is read-only" : "there is no permission to write here");
    StickTarget target;
    target.use = Use::ready;
    target.folder = folder;
    if (auto const space = view.space(folder))
        target.space = *space;
    return target;
}

Result<void> check_room(StickTarget const& target, std::uint64_t bytes, std::size_t files)
{
    if (target.use != Use::ready)
        return fail(Code::denied, target.name(), target.why);
    // A cluster of 128 KiB is the largest that exFAT takes by default; each file may waste one, the manifest
    // too.
    constexpr std::uint64_t cluster = 128u << 10;
    std::uint64_t const needed = bytes + cluster * (files + 2);
    if (target.space.free < needed)
        return fail(Code::io, target.folder.string(),
                    fmt::format("{} are free, up to {} are needed; remove something or use another stick",
                                shown_size(target.space.free), shown_size(needed)));
    return {};
}

} // namespace isochore::media
