#include "media/stick_set.h"
#include "media/test_keys.h"
#include "support/recording_disk.h"
#include <catch2/catch.hpp>
#include <iostream>
#include <map>

using namespace isochore;
using namespace isochore::media;
using test::CrashModel;
using test::RecordingDisk;

namespace {

/// Files of one sector and of several, so that a crash may keep some parts of a file and lose others.
std::vector<SetFile> files_of(std::string const& mark)
{
    std::vector<SetFile> files;
    for (int n = 1; n <= 6; ++n) {
        std::string body;
        for (int line = 0; line < n * n * 12; ++line)
            body += "\"" + mark + std::to_string(line) + "\",";
        files.push_back({"P000000" + std::to_string(n) + ".JSN", "[" + body + "0]\n"});
    }
    return files;
}

std::string text_of(std::vector<SetFile> const& files)
{
    std::string all;
    for (auto const& file : files)
        all += file.name + "=" + file.bytes;
    return all;
}

void write(disk::Disk& disk, std::string const& mark, std::string const& made_at)
{
    auto const written = write_set(disk, "/", files_of(mark), test::signer("engineer"), made_at);
    if (!written)
        FAIL(written.error().where << ": " << written.error().detail);
}

/// What a crash in the middle of a write may leave: the old set or the new one, whole; after the write was
/// confirmed only the new one. Then the next write must succeed whatever was left.
void check_state(RecordingDisk& after, std::vector<std::string> const& promises, Trust const& trust,
                 std::string const& before, std::map<std::string, int>& seen)
{
    auto const set = newest_valid_set(after, "/", trust);
    std::string mark = "none";
    if (set) {
        for (auto const candidate : {"a", "b", "c", "d", "e"})
            if (text_of(set->files) == text_of(files_of(candidate)))
                mark = candidate;
        CHECK_FALSE(set->stale); // what a crash leaves is unfinished, never something that looks forged
    } else {
        CHECK(set.error().code == Error::Code::not_found);
    }
    ++seen[mark];
    bool const confirmed = !promises.empty();
    CHECK((mark == "e" || (!confirmed && mark == before)));
    write(after, "d", "2025-03-09T08:00:00Z");
    auto const next = newest_valid_set(after, "/", trust);
    REQUIRE(next);
    CHECK(text_of(next->files) == text_of(files_of("d")));
}

void explore(CrashModel const& model, std::vector<std::string> const& earlier)
{
    RecordingDisk disk;
    int day = 1;
    for (auto const& mark : earlier)
        write(disk, mark, "2025-03-0" + std::to_string(day++) + "T08:00:00Z");
    disk.settle();
    write(disk, "e", "2025-03-08T08:00:00Z");
    disk.confirm("e");
    auto const trust = test::trust("engineer");
    std::map<std::string, int> seen;
    std::string const before = earlier.empty() ? "none" : earlier.back();
    auto const count = test::explore_crashes(disk, model, [&](RecordingDisk& after, auto const& promises) {
        check_state(after, promises, trust, before, seen);
    });
    std::cout << "stick writer, " << earlier.size() << " sets before: " << count.states
              << " different states at " << count.points << " points;";
    for (auto const& [mark, n] : seen)
        std::cout << " " << (mark == "none" ? "no set" : "set " + mark) << " " << n;
    std::cout << "\n";
    CHECK(count.states >= 1000);
    CHECK(seen[before] > 0);
    CHECK(seen["e"] > 0);
}

} // namespace

TEST_CASE("a stick pulled at any moment of a write holds the old set or the new one", "[media][crash]")
{
    CrashModel model;
    model.states_per_point = 400;
    SECTION("the first set on an empty stick")
    {
        explore(model, {});
    }
    SECTION("one set before")
    {
        explore(model, {"a"});
    }
    SECTION("three sets before, so that the oldest is removed")
    {
        explore(model, {"a", "b", "c"});
    }
    SECTION("three before, on a file system whose renames may tear")
    {
        model.atomic_rename = false;
        model.seed = 7;
        explore(model, {"a", "b", "c"});
    }
}

TEST_CASE("a folder left unflushed by a write that failed is made durable by the next", "[media][crash]")
{
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/ISOCHORE")); // and the stick was full, so that nothing else happened
    write(disk, "e", "2025-03-08T08:00:00Z");
    disk.confirm("e");
    CrashModel model;
    model.states_per_point = 100;
    auto const trust = test::trust("engineer");
    std::map<std::string, int> seen;
    test::explore_crashes(disk, model, [&](RecordingDisk& after, auto const& promises) {
        check_state(after, promises, trust, "none", seen);
    });
    CHECK(seen["e"] > 0);
}
