#include "media/stick_finder.h"
#include "support/temporary_folder.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>

using namespace isochore;
using namespace isochore::media;
namespace fs = std::filesystem;
using Use = StickTarget::Use;

namespace {

void put(fs::path const& file, std::string const& text)
{
    fs::create_directories(file.parent_path());
    std::ofstream(file) << text;
}

/// A machine made of files, laid out as sysfs lays itself out: an internal disk with the system, a stick on
/// USB, an external disk on USB that is not removable, and a card reader's card that is not on USB.
class Machine {
public:
    Machine()
    {
        disk("devices/pci0000:00/0000:00:17.0/ata1/host0/target0:0:0/0:0:0:0/block/sda", "8:0", 500'000'000,
             "0");
        partition("sda", "sda1", "8:1", 400'000'000);
        std::string const usb = "devices/pci0000:00/0000:00:14.0/usb1/1-2/1-2.3";
        put(sys() / usb / "idVendor", "1209\n");
        put(sys() / usb / "idProduct", "00a1\n");
        put(sys() / usb / "manufacturer", "Invented\n");
        put(sys() / usb / "product", "Stick 8\n");
        put(sys() / usb / "serial", "00042\n");
        put(sys() / usb / "1-2.3:1.0/bInterfaceClass", "08\n");
        disk(usb + "/1-2.3:1.0/host4/target4:0:0/4:0:0:0/block/sdb", "8:16", 16'000'000, "1");
        partition("sdb", "sdb1", "8:17", 15'998'000);
        std::string const external = "devices/pci0000:00/0000:00:14.0/usb1/1-4";
        put(sys() / external / "1-4:1.0/bInterfaceClass", "08\n");
        disk(external + "/1-4:1.0/host5/target5:0:0/5:0:0:0/block/sdc", "8:32", 900'000'000, "0");
        disk("devices/platform/mmc0/mmc0:0001/block/mmcblk0", "179:0", 30'000'000, "1");
        mount("8:1", "/", "ext4", "/dev/sda1", "rw");
    }

    fs::path sys() const { return m_folder.path() / "sys"; }
    fs::path dev() const { return m_folder.path() / "dev"; }

    void disk(std::string const& path, std::string const& number, long sectors, std::string const& removable)
    {
        put(sys() / path / "dev", number + "\n");
        put(sys() / path / "size", std::to_string(sectors) + "\n");
        put(sys() / path / "removable", removable + "\n");
        link(path);
    }

    void partition(std::string const& disk, std::string const& name, std::string const& number, long sectors)
    {
        auto const path = fs::canonical(sys() / "class/block" / disk) / name;
        put(path / "partition", "1\n");
        put(path / "dev", number + "\n");
        put(path / "size", std::to_string(sectors) + "\n");
        link(fs::relative(path, fs::canonical(sys())).string());
    }

    void mount(std::string const& number, std::string const& point, std::string const& type,
               std::string const& source, std::string const& options)
    {
        m_mounts += "36 35 " + number + " / " + point + " " + options + ",nosuid shared:1 - " + type + " " +
                    source + " rw,errors=remount-ro\n";
    }

    SystemView view(std::uint64_t free = 1'000'000'000) const
    {
        SystemView v;
        v.sysfs = sys();
        v.devices = dev();
        v.mountinfo = m_mounts;
        v.space = [free](disk::Path const&) -> Result<Space> { return Space{8'000'000'000, free}; };
        return v;
    }

    void unplug() { fs::remove_all(sys() / "devices/pci0000:00/0000:00:14.0/usb1/1-2/1-2.3"); }

private:
    void link(std::string const& path)
    {
        auto const name = fs::path(path).filename();
        fs::create_directories(sys() / "class/block");
        fs::create_symlink(fs::path("../..") / path, sys() / "class/block" / name);
    }

    test::TemporaryFolder m_folder;
    std::string m_mounts;
};

StickTarget const* find(StickSearch const& search, std::string const& block)
{
    auto const it = std::find_if(search.targets.begin(), search.targets.end(),
                                 [&](StickTarget const& t) { return t.block == block; });
    return it == search.targets.end() ? nullptr : &*it;
}

} // namespace

TEST_CASE("a mounted stick is found with what it calls itself and how much room it has", "[media][finder]")
{
    Machine m;
    m.mount("8:17", "/media/crew/FIELD\\040STICK", "vfat", "/dev/sdb1", "rw");
    auto const search = find_sticks(m.view(), std::vector<UsbDevice>{{"1-2.3", 0x1209, 0xa1, {}, {}, {}}});
    CHECK(search.notes.empty());
    auto const* stick = find(search, "sdb1");
    REQUIRE(stick);
    CHECK(&search.targets.front() == stick);
    CHECK(stick->use == Use::ready);
    CHECK(stick->folder == "/media/crew/FIELD STICK");
    CHECK(stick->file_system == "vfat");
    REQUIRE(stick->usb);
    CHECK(stick->usb->vendor_id == 0x1209);
    CHECK(stick->usb->serial == "00042");
    CHECK(stick->usb->place == "1-2.3");
    CHECK(stick->name() == "Invented Stick 8, 8.2 GB");
    CHECK(find(search, "sdb") == nullptr); // the whole disk is not offered beside its partition
    CHECK(check_room(*stick, 1'000'000, 3));
    CHECK_FALSE(check_room(*stick, 2'000'000'000, 3));
}

TEST_CASE("system disks and disks that are not removable are refused, with the reason", "[media][finder]")
{
    Machine m;
    m.mount("8:32", "/media/crew/backup", "ext4", "/dev/sdc", "rw");
    auto const search = find_sticks(m.view(), std::nullopt);
    CHECK(find(search, "sda1") == nullptr); // neither removable nor on USB: not even shown
    REQUIRE(find(search, "sdc"));
    CHECK(find(search, "sdc")->use == Use::refused);
    CHECK(find(search, "sdc")->why.find("not removable") != std::string::npos);
    CHECK_FALSE(check_room(*find(search, "sdc"), 1, 1));
}

TEST_CASE("a stick the system was started from is refused, mapped devices included", "[media][finder]")
{
    Machine m;
    SECTION("mounted directly")
    {
        m.mount("8:17", "/boot/efi", "vfat", "/dev/sdb1", "rw");
    }
    SECTION("under a mapped device")
    {
        m.disk("devices/virtual/block/dm-0", "253:0", 1000, "0");
        put(m.sys() / "devices/virtual/block/dm-0/slaves/sdb1/dev", "8:17");
        m.mount("253:0", "/home", "ext4", "/dev/mapper/home", "rw");
    }
    auto const search = find_sticks(m.view(), std::nullopt);
    REQUIRE(find(search, "sdb1"));
    CHECK(find(search, "sdb1")->use == Use::refused);
    CHECK(find(search, "sdb1")->why.find("system") != std::string::npos);
}

TEST_CASE("without USB events the mounts decide, and that is said", "[media][finder]")
{
    Machine m;
    m.mount("8:17", "/media/stick", "vfat", "/dev/sdb1", "rw");
    auto const search = find_sticks(m.view(), std::nullopt);
    REQUIRE(search.notes.size() == 1);
    CHECK(search.notes[0].find("look again") != std::string::npos);
    CHECK(find(search, "sdb1")->use == Use::ready);
}

TEST_CASE("a stick not mounted, mounted read-only or through FUSE is told apart", "[media][finder]")
{
    Machine m;
    auto const use = [&] { return find(find_sticks(m.view(), std::nullopt), "sdb1")->use; };
    CHECK(use() == Use::not_mounted);
    SECTION("read-only")
    {
        m.mount("8:17", "/media/stick", "vfat", "/dev/sdb1", "ro");
        CHECK(use() == Use::read_only);
    }
    SECTION("FUSE gives the mount a device number of its own")
    {
        m.mount("0:51", "/media/stick", "fuseblk", "/dev/sdb1", "rw");
        CHECK(use() == Use::ready);
    }
}

TEST_CASE("a card that is removable but not on USB is offered too", "[media][finder]")
{
    Machine m;
    m.mount("179:0", "/media/card", "exfat", "/dev/mmcblk0", "rw");
    auto const search = find_sticks(m.view(), std::vector<UsbDevice>{});
    REQUIRE(find(search, "mmcblk0"));
    CHECK(find(search, "mmcblk0")->use == Use::ready);
    CHECK(find(search, "mmcblk0")->name() == "mmcblk0, 15.4 GB");
}

TEST_CASE("a stick pulled while being looked for is simply gone", "[media][finder]")
{
    Machine m;
    m.mount("8:17", "/media/stick", "vfat", "/dev/sdb1", "rw");
    m.unplug(); // the links in class/block now lead nowhere
    auto const search = find_sticks(m.view(), std::vector<UsbDevice>{{"1-2.3", 0x1209, 0xa1, {}, {}, {}}});
    CHECK(find(search, "sdb1") == nullptr);
    REQUIRE(search.notes.size() == 1);
    CHECK(search.notes[0].find("1209:00a1") != std::string::npos);
}

TEST_CASE("a folder is a target when it is a folder that can be written to", "[media][finder]")
{
    test::TemporaryFolder folder;
    auto view = Machine().view(5'000'000);
    auto const target = folder_target(view, folder.path());
    REQUIRE(target);
    CHECK(target->use == Use::ready);
    CHECK(target->space.free == 5'000'000);
    CHECK(folder_target(view, folder / "none").error().code == Error::Code::not_found);
    put(folder / "file", "x");
    CHECK(folder_target(view, folder / "file").error().code == Error::Code::denied);
    fs::create_directory_symlink(folder.path(), folder / "link");
    CHECK(folder_target(view, folder / "link").error().code == Error::Code::denied);
}

TEST_CASE("lines of mountinfo that make no sense are left out", "[media][finder]")
{
    auto const mounts = read_mounts("garbage\n\n36 35 8:17 / /a rw - vfat /dev/sdb1 rw\n"
                                    "36 35 8:18 / /b rw shared:1 master:2 - ext4 /dev/sdb2 ro\n1 2 3\n");
    REQUIRE(mounts.size() == 2);
    CHECK_FALSE(mounts[0].read_only);
    CHECK(mounts[1].read_only);
    CHECK(mounts[1].type == "ext4");
}

TEST_CASE("this machine can be looked at without harm", "[media][finder]")
{
    auto const view = SystemView::of_this_machine();
    REQUIRE(view);
    for (auto const& target : find_sticks(*view, std::nullopt).targets)
        CHECK(target.folder != "/");
}
