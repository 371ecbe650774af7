#include "media/block_devices.h"
#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <fstream>

namespace isochore::media {
namespace {

namespace fs = std::filesystem;

/// One attribute of sysfs without its line end; empty where there is none.
std::string attribute(fs::path const& file)
{
    std::ifstream in(file);
    std::string line;
    std::getline(in, line);
    while (!line.empty() && (line.back() == ' ' || line.back() == '\n'))
        line.pop_back();
    return line;
}

std::uint64_t number(std::string const& text, int base = 10)
{
    std::uint64_t value = 0;
    auto const [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value, base);
    return problem == std::errc{} && end == text.data() + text.size() ? value : 0;
}

/// "1-2.3:1.0" names interface 0 of configuration 1 of the device at ports 2 and 3 of bus 1.
bool is_interface(std::string const& name)
{
    auto const dash = name.find('-'), colon = name.find(':');
    return dash != std::string::npos && colon != std::string::npos && dash < colon &&
           name.find_first_not_of("0123456789-.:") == std::string::npos;
}

/// The USB device a block device hangs on: walks up its path to a mass-storage interface (class 08).
std::optional<UsbDevice> usb_above(fs::path const& device)
{
    for (auto at = device; at.has_relative_path() && at != at.root_path(); at = at.parent_path()) {
        if (!is_interface(at.filename().string()))
            continue;
        if (attribute(at / "bInterfaceClass") != "08")
            return std::nullopt;
        auto const usb = at.parent_path();
        return UsbDevice{usb.filename().string(),
                         static_cast<int>(number(attribute(usb / "idVendor"), 16)),
                         static_cast<int>(number(attribute(usb / "idProduct"), 16)),
                         attribute(usb / "manufacturer"),
                         attribute(usb / "product"),
                         attribute(usb / "serial")};
    }
    return std::nullopt;
}

bool has_partitions(fs::path const& disk)
{
    std::error_code error;
    for (fs::directory_iterator at(disk, error), end; !error && at != end; at.increment(error))
        if (fs::exists(at->path() / "partition", error))
            return true;
    return false;
}

std::optional<BlockDevice> read_device(fs::path const& link)
{
    std::error_code error;
    auto const path = fs::canonical(link, error);
    if (error)
        return std::nullopt;
    bool const partition = fs::exists(path / "partition", error);
    auto const disk = partition ? path.parent_path() : path;
    BlockDevice device;
    device.name = path.filename().string();
    device.disk = disk.filename().string();
    device.device_number = attribute(path / "dev");
    device.size =
        number(attribute(path / "size")) * 512; // sysfs counts in 512 bytes whatever the device does
    device.removable = attribute(disk / "removable") == "1";
    device.has_partitions = !partition && has_partitions(disk);
    device.usb = usb_above(disk);
    return device;
}

/// Folders whose disk must never be written to as if it were a stick.
bool is_system_mount(fs::path const& point)
{
    static constexpr std::array roots = {"/boot", "/usr", "/var", "/home", "/opt", "/srv", "/etc"};
    auto const text = point.string();
    if (text == "/")
        return true;
    return std::any_of(roots.begin(), roots.end(), [&](std::string_view root) {
        return text == root || (text.starts_with(root) && text[root.size()] == '/');
    });
}

void add_disks(fs::path const& sysfs, std::vector<BlockDevice> const& devices, std::string const& name,
               std::set<std::string>& out, int depth)
{
    if (depth > 8)
        return;
    auto const it =
        std::find_if(devices.begin(), devices.end(), [&](auto const& d) { return d.name == name; });
    out.insert(it == devices.end() ? name : it->disk);
    std::error_code error;
    fs::directory_iterator at(sysfs / "class" / "block" / name / "slaves", error);
    for (fs::directory_iterator const end; !error && at != end; at.increment(error))
        add_disks(sysfs, devices, at->path().filename().string(), out, depth + 1);
}

} // namespace

std::vector<BlockDevice> read_block_devices(disk::Path const& sysfs)
{
    std::vector<BlockDevice> devices;
    std::error_code error;
    fs::directory_iterator at(sysfs / "class" / "block", error);
    for (fs::directory_iterator const end; !error && at != end; at.increment(error))
        if (auto device = read_device(at->path()))
            devices.push_back(std::move(*device));
    std::sort(devices.begin(), devices.end(), [](auto const& a, auto const& b) { return a.name < b.name; });
    return devices;
}

std::set<std::string> system_disks(disk::Path const& sysfs, std::vector<BlockDevice> const& devices,
                                   std::vector<Mount> const& mounts)
{
    std::set<std::string> out;
    for (auto const& mount : mounts) {
        if (!is_system_mount(mount.point))
            continue;
        for (auto const& device : devices)
            if (device.device_number == mount.device_number)
                add_disks(sysfs, devices, device.name, out, 0);
    }
    return out;
}

} // namespace isochore::media
