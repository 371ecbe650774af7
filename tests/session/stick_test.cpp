#include "session/read_back.h"
#include "session/stick.h"
#include "session/stick_targets.h"
#include "session_support.h"
#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <fstream>
#include <sys/mount.h>
#include <unistd.h>

using namespace isochore;
using namespace isochore::session;
using Code = Error::Code;

namespace {

std::string report_of(std::string const& serial)
{
    return R"({"format":"isochore.settings/1","job":"T-1","profile":"kd-41","revision":1,)"
           R"("settings":{"unit.serial":")" +
           serial + R"(","ct.ratio":"1200:5"}})";
}

/// A stick with a folder for what units write about themselves.
struct ReportStick : Bench {
    disk::Path target = folder / "stick", reports = target / "ISOCHORE/READBACK";
    ReportStick()
    {
        for (auto const& f : {target, target / "ISOCHORE", reports})
            REQUIRE(disk->make_directory(f));
    }
    void put(std::string const& name, std::string const& text)
    {
        REQUIRE(disk->create(reports / name, text));
    }
    [[nodiscard]] Result<UnitReport> find(std::string const& serial = "MU-1")
    {
        return find_unit_report(*disk, target, serial);
    }
};

} // namespace

TEST_CASE("of several units' reports the one with this unit's serial number is taken, whatever its case")
{
    ReportStick stick;
    stick.put("U0000001.JSN", report_of("MU-2"));
    stick.put("u0000002.jsn", report_of("MU-1"));
    auto const found = stick.find();
    REQUIRE(found);
    CHECK(found->file == "READBACK/U0000002.JSN");
    CHECK(found->values.at("ct.ratio") == "1200:5");
    auto const other = stick.find("MU-3");
    REQUIRE_FALSE(other);
    CHECK(other.error().code == Code::not_found);
    CHECK(other.error().detail.find("MU-3 is wanted, it has MU-2, MU-1") != std::string::npos);
}

TEST_CASE("without a folder, with an empty one, or with what cannot be read, it is said which")
{
    Bench bench;
    auto const target = bench.folder / "stick";
    REQUIRE(bench.disk->make_directory(target));
    CHECK(find_unit_report(*bench.disk, target, "MU-1").error().code == Code::not_found);
    REQUIRE(bench.disk->make_directory(target / "ISOCHORE"));
    CHECK(find_unit_report(*bench.disk, target, "MU-1").error().detail.find("READBACK") != std::string::npos);
    ReportStick stick;
    CHECK(stick.find().error().detail.find("empty") != std::string::npos);
    stick.put("U0000001.JSN", "{\"format\":");
    CHECK(stick.find().error().code == Code::corrupt);
    stick.put("U0000002.JSN", report_of("MU-1")); // one that fits goes before one that does not
    CHECK(stick.find());
    CHECK(stick.find("MU-7").error().code == Code::corrupt);
}

TEST_CASE("links, folders, odd names, huge files and a set of our own are no reports of a unit")
{
    ReportStick stick;
    REQUIRE(stick.disk->make_directory(stick.reports / "U0000001.JSN"));
    std::filesystem::create_symlink("/etc/hostname", stick.reports / "U0000002.JSN");
    stick.put("not a safe name.json", report_of("MU-1"));
    REQUIRE(stick.disk->make_directory(stick.target / "ISOCHORE/S0000001"));
    REQUIRE(stick.disk->create(stick.target / "ISOCHORE/S0000001/S0000001.JSN", report_of("MU-1")));
    CHECK_FALSE(stick.find());
    stick.put("U0000003.JSN", std::string(70u << 10, ' ') + report_of("MU-1"));
    CHECK_FALSE(stick.find());
}

TEST_CASE("looking for sticks is asked for again only when a volume came or went")
{
    media::SystemView view;
    view.sysfs = "/nonexistent";
    view.devices = "/nonexistent";
    view.mountinfo = "36 35 8:1 / / rw - ext4 /dev/sda1 rw\n";
    view.space = [](disk::Path const&) -> Result<media::Space> { return media::Space{}; };
    bool readable = true;
    StickLook look(
        [&]() -> Result<media::SystemView> {
            if (!readable)
                return fail(Code::io, "/proc/self/mountinfo", "the list of mounts could not be read");
            return view;
        },
        false);
    auto const first = look.look();
    CHECK(first.targets.empty());
    REQUIRE(first.notes.size() == 1); // without libusb the mounts alone decide, and that is said
    CHECK(first.notes.front().find("USB events are not available") != std::string::npos);
    CHECK_FALSE(look.changed());
    view.mountinfo += "37 35 8:17 / /media/crew/STICK rw - vfat /dev/sdb1 rw\n";
    CHECK(look.changed());
    CHECK(look.changed()); // until somebody looks
    (void)look.look();
    CHECK_FALSE(look.changed());
    readable = false;
    CHECK_FALSE(look.changed());
    CHECK(look.look().notes == std::vector<std::string>{"the list of mounts could not be read"});
}

TEST_CASE("a disk that appears, is filled or goes is looked at although no USB event and no mount tells of it")
{
    Bench bench;
    media::SystemView view;
    view.sysfs = bench.folder / "sys";
    view.devices = "/nonexistent";
    view.mountinfo = "36 35 8:1 / / rw - ext4 /dev/sda1 rw\n";
    view.space = [](disk::Path const&) -> Result<media::Space> { return media::Space{}; };
    auto const card = view.sysfs / "class/block/sdq";
    auto const put = [&](char const* name, char const* text) { std::ofstream(card / name) << text << '\n'; };
    StickLook look([&]() -> Result<media::SystemView> { return view; }, false);
    CHECK(look.look().targets.empty());
    CHECK_FALSE(look.changed());
    std::filesystem::create_directories(card); // a reader without a card: the disk is there, and empty
    put("dev", "65:0");
    put("size", "0");
    put("removable", "1");
    CHECK(look.changed());
    CHECK(look.look().targets.empty());
    CHECK_FALSE(look.changed());
    put("size", "16000000");
    CHECK(look.changed());
    CHECK(look.look().targets.size() == 1);
    CHECK_FALSE(look.changed());
    std::filesystem::remove_all(card);
    CHECK(look.changed());
    CHECK(look.look().targets.empty());
    CHECK_FALSE(look.changed());
}

TEST_CASE("a plain folder is flushed and never unmounted; a stick that is gone is not called safe")
{
    Bench bench;
    auto const folder = bench.folder / "target";
    REQUIRE(bench.disk->make_directory(folder));
    auto const plain = put_away(folder, false);
    CHECK_FALSE(plain.safe);
    CHECK(plain.say.starts_with("Everything is written."));
    CHECK(bench.disk->exists(folder));
    auto const gone = put_away(bench.folder / "absent", true);
    CHECK_FALSE(gone.safe);
    CHECK(gone.say == "the stick is not there any more");
    auto const nowhere = put_away(bench.folder / "absent", false);
    CHECK_FALSE(nowhere.safe);
    CHECK(nowhere.say.find("could not be flushed") != std::string::npos);
}

TEST_CASE("a mounted stick is unmounted once nobody uses it, and only then called safe")
{
    Bench bench;
    auto const point = bench.folder / "mnt";
    REQUIRE(bench.disk->make_directory(point));
    if (::mount("isochore-test", point.c_str(), "tmpfs", 0, "size=1m") != 0) {
        WARN("skipped: this machine does not let us mount");
        return;
    }
    {
        std::FILE* open = std::fopen((point / "in-use").c_str(), "w");
        REQUIRE(open);
        auto const busy = put_away(point, true);
        CHECK_FALSE(busy.safe);
        CHECK(busy.say.find("another program still uses the stick") != std::string::npos);
        std::fclose(open);
    }
    auto const away = put_away(point, true);
    CHECK(away.safe);
    CHECK(away.say == "The stick is unmounted; it can be pulled.");
    CHECK_FALSE(bench.disk->exists(point / "in-use"));
    if (!away.safe)
        (void)::umount2(point.c_str(), MNT_DETACH);
}
