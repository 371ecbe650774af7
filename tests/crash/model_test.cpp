#include "support/faulting_disk.h"
#include "support/recording_disk.h"
#include <catch2/catch.hpp>
#include <set>

// The disk model itself: tests that lean on it are worth no more than it is.
using namespace isochore;
using namespace isochore::test;

namespace {
std::set<std::string> states_of(RecordingDisk const& disk, std::string const& file, bool atomic_rename = true)
{
    std::set<std::string> seen;
    explore_crashes(disk, {.atomic_rename = atomic_rename, .states_per_point = 4096},
                    [&](RecordingDisk& after, std::vector<std::string> const&) {
                        auto const bytes = after.read(file, 1u << 20);
                        seen.insert(bytes ? "=" + *bytes : "absent");
                    });
    return seen;
}
} // namespace

TEST_CASE("without a flush anything may be lost: the name, the data, or the data but not its size")
{
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/d"));
    disk.settle();
    REQUIRE(disk.create("/d/f", "abc"));
    CHECK(states_of(disk, "/d/f") == std::set<std::string>{"absent", "=", std::string("=\0\0\0", 4), "=abc"});
}

TEST_CASE("a flushed file in an unflushed folder may still be gone, and a flushed one stays whole")
{
    RecordingDisk disk;
    REQUIRE(disk.create("/f", "abc"));
    REQUIRE(disk.flush_file("/f"));
    disk.confirm("data");
    std::set<std::string> seen;
    explore_crashes(disk, {}, [&](RecordingDisk& after, std::vector<std::string> const& promises) {
        if (!promises.empty())
            seen.insert(after.exists("/f") ? *after.read("/f", 10) : "absent");
    });
    CHECK(seen == std::set<std::string>{"absent", "abc"});

    REQUIRE(disk.flush_directory("/"));
    disk.confirm("name");
    seen.clear();
    explore_crashes(disk, {}, [&](RecordingDisk& after, std::vector<std::string> const& promises) {
        if (promises.size() == 2)
            seen.insert(after.exists("/f") ? *after.read("/f", 10) : "absent");
    });
    CHECK(seen == std::set<std::string>{"abc"});
}

TEST_CASE("a rename is whole on a journaling file system and may leave both names or none on FAT")
{
    RecordingDisk disk;
    REQUIRE(disk.create("/a", "x"));
    disk.settle();
    REQUIRE(disk.rename("/a", "/b"));
    for (bool const atomic : {true, false}) {
        std::set<std::string> seen;
        explore_crashes(disk, {.atomic_rename = atomic}, [&](RecordingDisk& after, auto const&) {
            seen.insert(std::string(after.exists("/a") ? "a" : "") + (after.exists("/b") ? "b" : ""));
        });
        CHECK(seen == (atomic ? std::set<std::string>{"a", "b"} : std::set<std::string>{"a", "b", "ab", ""}));
    }
}

TEST_CASE("a large write may arrive in part, sectors in any order")
{
    RecordingDisk disk;
    REQUIRE(disk.create("/f", ""));
    disk.settle();
    disk.write_at(disk.open_or_create("/f"), 0, std::string(1024, 'x'));
    auto const seen = states_of(disk, "/f");
    CHECK(seen.contains("=" + std::string(1024, 'x')));
    CHECK(seen.contains("=" + std::string(512, 'x')));
    CHECK(seen.contains("=" + std::string(512, '\0') + std::string(512, 'x')));
    CHECK(seen.contains("=" + std::string(512, 'x') + std::string(512, '\0')));
}

TEST_CASE("what lies in a folder whose own name was lost cannot be reached")
{
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/d"));
    REQUIRE(disk.create("/d/f", "x"));
    REQUIRE(disk.flush_file("/d/f"));
    REQUIRE(disk.flush_directory("/d"));
    CHECK(states_of(disk, "/d/f").contains("absent"));
    REQUIRE(disk.flush_directory("/"));
    disk.confirm("");
    explore_crashes(disk, {}, [&](RecordingDisk& after, std::vector<std::string> const& promises) {
        if (!promises.empty())
            CHECK(after.read("/d/f", 10) == "x");
    });
}

TEST_CASE("the faulting disk fails the n-th call only, or all writes from there on")
{
    RecordingDisk disk;
    FaultingDisk once(disk, 2, Fault::short_write);
    CHECK(once.create("/a", "1234"));
    CHECK_FALSE(once.create("/b", "1234"));
    CHECK(disk.read("/b", 10) == "12");
    CHECK(once.create("/c", "1234"));
    CHECK(once.calls() == 3);

    FaultingDisk lasting(disk, 1, Fault::read_only);
    auto const refused = lasting.create("/d", "1");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().detail.find("read-only") != std::string::npos);
    CHECK_FALSE(lasting.remove("/a"));
    CHECK(lasting.read("/a", 10));
}
