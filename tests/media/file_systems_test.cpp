#include "disk/disk.h"
#include "media/command.h"
#include "media/set_names.h"
#include "media/stick_release.h"
#include "media/stick_set.h"
#include "media/test_keys.h"
#include "media/volume_state.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <unistd.h>

using namespace isochore;
using namespace isochore::media;
using test::run;
using test::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

void make_image(fs::path const& file, std::uintmax_t bytes)
{
    std::ofstream(file, std::ios::binary).put('\0');
    fs::resize_file(file, bytes);
}

std::string first_sector(fs::path const& file)
{
    std::ifstream in(file, std::ios::binary);
    std::string sector(512, '\0');
    in.read(sector.data(), 512);
    return sector;
}

void set_byte(fs::path const& file, std::streamoff at, char value)
{
    std::fstream io(file, std::ios::binary | std::ios::in | std::ios::out);
    io.seekp(at);
    io.put(value);
}

std::vector<SetFile> some_files(int n)
{
    std::vector<SetFile> files;
    for (int i = 1; i <= n; ++i)
        files.push_back({fmt::format("P{:07d}.JSN", i),
                         fmt::format("{{\"n\":{},\"text\":\"{:x>{}}\"}}\n", i, "", i * 97)});
    return files;
}

Result<WrittenSet> write(fs::path const& target, int day)
{
    return write_set(*disk::system_disk(), target, some_files(12), test::signer("engineer"),
                     "2025-03-0" + std::to_string(day) + "T08:00:00Z");
}

} // namespace

TEST_CASE("boot sectors made by the usual tools are told apart, and their dirty marks are seen",
          "[media][images]")
{
    if (!test::has_command("mkfs.vfat") || !test::has_command("fsck.vfat")) {
        WARN("skipped: dosfstools is not installed");
        return;
    }
    struct Case {
        char const* bits;
        std::uintmax_t size;
        VolumeState::Kind kind;
        int dirty_at;
    };
    auto const c = GENERATE(values<Case>({{"12", 4u << 20, VolumeState::Kind::fat12, 37},
                                          {"16", 32u << 20, VolumeState::Kind::fat16, 37},
                                          {"32", 64u << 20, VolumeState::Kind::fat32, 65}}));
    CAPTURE(c.bits);
    TemporaryFolder folder;
    auto const image = folder / "fat.img";
    make_image(image, c.size);
    REQUIRE(run("mkfs.vfat -F " + std::string(c.bits) + " " + image.string()).ok());
    auto const state = read_volume_state(first_sector(image));
    CHECK(state.kind == c.kind);
    CHECK_FALSE(state.dirty);
    CHECK(state.bytes <= c.size);
    CHECK(state.bytes > c.size / 10 * 9);
    set_byte(image, c.dirty_at, '\x01');
    CHECK(read_volume_state(first_sector(image)).dirty);
    // The checker must see the same mark, or we look in the wrong place.
    auto const check = run("fsck.vfat -n " + image.string());
    INFO(check.output);
    CHECK(check.output.find("irty bit is set") != std::string::npos);
}

TEST_CASE("what is no boot sector is unknown", "[media][images]")
{
    CHECK(read_volume_state("").kind == VolumeState::Kind::unknown);
    CHECK(read_volume_state(std::string(512, '\0')).kind == VolumeState::Kind::unknown);
    CHECK(read_volume_state(std::string(512, '\xff')).kind == VolumeState::Kind::unknown);
    std::string marked(512, '\0');
    marked[510] = '\x55';
    marked[511] = '\xaa';
    CHECK(read_volume_state(marked).kind == VolumeState::Kind::unknown);
}

TEST_CASE("a set survives the way through a FAT file system under its plain names", "[media][images]")
{
    if (!test::has_command("mcopy") || !test::has_command("mkfs.vfat")) {
        WARN("skipped: mtools or dosfstools is not installed");
        return;
    }
    TemporaryFolder folder;
    auto const image = folder / "stick.img";
    make_image(image, 32u << 20);
    REQUIRE(run("mkfs.vfat -F 16 " + image.string()).ok());
    auto const from = folder / "from", to = folder / "to";
    fs::create_directory(from);
    fs::create_directory(to);
    REQUIRE(write(from, 1));
    REQUIRE(write(from, 2));
    REQUIRE(run("mcopy -s -i " + image.string() + " " + (from / "ISOCHORE").string() + " ::/").ok());
    auto const check = run("fsck.vfat -n -v " + image.string());
    INFO(check.output);
    CHECK(check.ok());
    // A long name would show a second column in the listing; ours are stored in 8.3 alone.
    auto const list = run("mdir -i " + image.string() + " ::/ISOCHORE/S0000002");
    INFO(list.output);
    CHECK(list.output.find("P0000012 JSN") != std::string::npos);
    CHECK(list.output.find("P0000012.JSN") == std::string::npos);
    REQUIRE(run("mcopy -s -i " + image.string() + " ::/ISOCHORE " + to.string()).ok());
    auto const set = newest_valid_set(*disk::system_disk(), to, test::trust("engineer"));
    REQUIRE(set);
    CHECK(set->set == "S0000002");
    CHECK(set->files.size() == 12);
}

namespace {

/// An exFAT file system on a loop device, mounted through FUSE; goes away with the object.
class ExfatMount {
public:
    explicit ExfatMount(fs::path const& folder) : m_image(folder / "exfat.img"), m_point(folder / "mnt")
    {
        make_image(m_image, 32u << 20);
        fs::create_directory(m_point);
    }
    ~ExfatMount()
    {
        unmount();
        if (!m_loop.empty())
            (void)run("losetup -d " + m_loop);
    }

    /// Empty when all went well, else why this machine does not permit it.
    std::string start()
    {
        for (auto const tool : {"mkfs.exfat", "losetup", "mount.exfat-fuse"})
            if (!test::has_command(tool))
                return std::string(tool) + " is not installed";
        if (::geteuid() != 0)
            return "mounting needs root";
        if (auto const made = run("mkfs.exfat " + m_image.string()); !made.ok())
            return made.output;
        auto const loop = run("losetup -f --show " + m_image.string());
        if (!loop.ok())
            return "no loop device: " + loop.output;
        m_loop = loop.output.substr(0, loop.output.find('\n'));
        return mount();
    }
    std::string mount()
    {
        auto const mounted = run("mount.exfat-fuse " + m_loop + " " + m_point.string());
        m_mounted = mounted.ok();
        return mounted.ok() ? "" : "exfat-fuse does not mount here: " + mounted.output;
    }
    void unmount()
    {
        if (m_mounted)
            (void)run("umount " + m_point.string());
        m_mounted = false;
    }
    void released() { m_mounted = false; }
    [[nodiscard]] fs::path const& point() const { return m_point; }
    [[nodiscard]] std::string const& loop() const { return m_loop; }

private:
    fs::path m_image, m_point;
    std::string m_loop;
    bool m_mounted = false;
};

} // namespace

TEST_CASE("sets are written to, verified on and pruned from a real exFAT file system", "[media][images]")
{
    TemporaryFolder folder;
    ExfatMount exfat(folder.path());
    if (auto const why = exfat.start(); !why.empty()) {
        WARN("skipped: " << why);
        return;
    }
    for (int day = 1; day <= 4; ++day) {
        auto const written = write(exfat.point(), day);
        if (!written)
            FAIL(written.error().where << ": " << written.error().detail);
        CHECK(written->notes.empty());
    }
    auto const trust = test::trust("engineer");
    auto const disk = disk::system_disk();
    REQUIRE(newest_valid_set(*disk, exfat.point(), trust));
    auto const released = release_stick(exfat.point());
    REQUIRE(released);
    CHECK(released->unmounted);
    if (released->unmounted)
        exfat.released();
    // Read by the device's own boot sector: put away cleanly.
    auto const state = read_volume_state(first_sector(exfat.loop()));
    CHECK(state.kind == VolumeState::Kind::exfat);
    CHECK_FALSE(state.dirty);
    CHECK(state.bytes == (32u << 20));
    auto const check = run("fsck.exfat -n " + exfat.loop());
    INFO(check.output);
    CHECK(check.ok());
    REQUIRE(exfat.mount().empty());
    auto const list = list_sets(*disk, exfat.point(), trust);
    REQUIRE(list);
    REQUIRE(list->size() == 3);
    for (auto const& line : *list)
        CHECK(line.state == SetSummary::State::valid);
    CHECK(list->front().set == "S0000004");
}

TEST_CASE("a full exFAT stick keeps the old set", "[media][images]")
{
    TemporaryFolder folder;
    ExfatMount exfat(folder.path());
    if (auto const why = exfat.start(); !why.empty()) {
        WARN("skipped: " << why);
        return;
    }
    REQUIRE(write(exfat.point(), 1));
    // Leave less than a set needs.
    {
        std::ofstream big(exfat.point() / "big.bin", std::ios::binary);
        std::string const block(64u << 10, 'b');
        while (big.write(block.data(), static_cast<std::streamsize>(block.size())).flush())
            ;
    }
    auto const second = write(exfat.point(), 2);
    REQUIRE_FALSE(second);
    INFO(second.error().detail);
    auto const set = newest_valid_set(*disk::system_disk(), exfat.point(), test::trust("engineer"));
    REQUIRE(set);
    CHECK(set->set == "S0000001");
    fs::remove(exfat.point() / "big.bin");
    CHECK(write(exfat.point(), 3));
}
