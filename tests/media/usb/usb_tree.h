#pragma once
#include "media/stick_finder.h"
#include <filesystem>
#include <fmt/format.h>
#include <stdexcept>
#include <umockdev.h>

namespace isochore::test {

/// Device, configuration and interface descriptors (USB 2.0, 9.6) as hex; endpoints for a storage interface.
inline std::string descriptors(std::string const& interface_class)
{
    std::string const device = "12010002"
                               "00000040"
                               "0912a100"
                               "0001010203"
                               "01";
    std::string const config = "09022000"
                               "01010080"
                               "32";
    std::string const interface = "09040000"
                                  "02" +
                                  interface_class +
                                  "0650"
                                  "00";
    return device + config + interface +
           "07058102"
           "000200" +
           "07050202"
           "000200";
}

/// A simulated tree of USB devices on bus 1.
class UsbTree {
public:
    UsbTree() : m_bed(umockdev_testbed_new())
    {
        add(device("/devices/pci0000:00/0000:00:14.0/usb1", 1, "09"));
    }
    UsbTree(UsbTree const&) = delete;
    UsbTree& operator=(UsbTree const&) = delete;
    ~UsbTree() { g_object_unref(m_bed); }

    void add(std::string const& text)
    {
        GError* error = nullptr;
        umockdev_testbed_add_from_string(m_bed, text.c_str(), &error);
        if (error) {
            std::string const why = error->message;
            g_error_free(error);
            throw std::runtime_error(why);
        }
    }

    /// A device at a port, with an interface of that class and, for storage, a disk with one partition.
    void plug(int port, std::string const& interface_class, bool event)
    {
        std::string const usb = device_path(port);
        add(device(usb, port + 1, interface_class));
        add(fmt::format(
            "P: {}/1-{}:1.0\nE: SUBSYSTEM=usb\nE: DEVTYPE=usb_interface\nA: bInterfaceClass={}\n\n", usb,
            port, interface_class));
        if (interface_class == "08")
            add(fmt::format("P: {0}\nN: sdq\nE: SUBSYSTEM=block\nE: DEVTYPE=disk\n"
                            "A: dev=65:0\nA: size=16000000\nA: removable=1\n\n"
                            "P: {0}/sdq1\nN: sdq1\nE: SUBSYSTEM=block\nE: DEVTYPE=partition\n"
                            "A: dev=65:1\nA: size=15998000\nA: partition=1\n\n",
                            disk_path(port)));
        if (event)
            umockdev_testbed_uevent(m_bed, ("/sys" + usb).c_str(), "add");
    }

    void unplug(int port, bool storage)
    {
        umockdev_testbed_uevent(m_bed, ("/sys" + device_path(port)).c_str(), "remove");
        if (storage) {
            umockdev_testbed_remove_device(m_bed, ("/sys" + disk_path(port) + "/sdq1").c_str());
            umockdev_testbed_remove_device(m_bed, ("/sys" + disk_path(port)).c_str());
        }
        // The simulation leaves these links behind, which the kernel does not.
        for (auto const name : {"sdq", "sdq1"})
            std::filesystem::remove(view().sysfs / "block" / name);
        umockdev_testbed_remove_device(m_bed, ("/sys" + device_path(port)).c_str());
    }

    [[nodiscard]] media::SystemView view() const
    {
        media::SystemView v;
        gchar* root = umockdev_testbed_get_root_dir(m_bed);
        v.sysfs = std::filesystem::path(root) / "sys";
        v.devices = std::filesystem::path(root) / "dev";
        g_free(root);
        v.mountinfo = "36 35 65:1 / /media/crew/STICK rw,nosuid - vfat /dev/sdq1 rw\n";
        v.space = [](disk::Path const&) -> Result<media::Space> {
            return media::Space{8'000'000'000, 7'000'000'000};
        };
        return v;
    }

private:
    /// No device number is given: with one, libudev asks the machine's own udev about it.
    static std::string device(std::string const& path, int number, std::string const& interface_class)
    {
        return fmt::format("P: {0}\nN: bus/usb/001/{1:03}\n"
                           "E: SUBSYSTEM=usb\nE: DEVTYPE=usb_device\nE: BUSNUM=001\nE: DEVNUM={1:03}\n"
                           "E: DEVNAME=/dev/bus/usb/001/{1:03}\n"
                           "A: busnum=1\nA: devnum={1}\nA: speed=480\nA: bConfigurationValue=1\n"
                           "A: idVendor=1209\nA: idProduct=00a1\nA: manufacturer=Invented\nA: product=Stick\n"
                           "A: serial=00042\nH: descriptors={2}\n\n",
                           path, number, descriptors(interface_class));
    }
    static std::string device_path(int port)
    {
        return "/devices/pci0000:00/0000:00:14.0/usb1/1-" + std::to_string(port);
    }
    static std::string disk_path(int port)
    {
        return device_path(port) + "/1-" + std::to_string(port) + ":1.0/host4/target4:0:0/4:0:0:0/block/sdq";
    }

    UMockdevTestbed* m_bed;
};

} // namespace isochore::test
