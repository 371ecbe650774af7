#include "disk/whole_file.h"
#include "session_support.h"
#include "support/gated_disk.h"
#include <catch2/catch.hpp>
#include <thread>

using namespace isochore;
using namespace isochore::session;

TEST_CASE("the library read beside the window is the one it would have read itself, and says how far it is")
{
    Bench bench;
    CHECK_FALSE(bench.workspace->library_is_read());
    std::size_t calls = 0, last = 0, total = 0;
    Workspace::LibraryRead read;
    std::thread([&, reader = bench.workspace->library_reader()] {
        read = reader([&](std::size_t done, std::size_t all, std::string_view) {
            ++calls;
            last = done;
            total = all;
            return true;
        });
    }).join();
    CHECK_FALSE(bench.workspace->library_is_read()); // nothing is in its place before it is taken
    bench.workspace->take_library(std::move(read));
    REQUIRE(bench.workspace->library_is_read());
    CHECK(calls == total);
    CHECK(last + 1 == total);
    int const readings = bench.workspace->library_reading();
    auto const& taken = bench.workspace->library();
    CHECK(bench.workspace->library_reading() == readings); // it was not read once more
    Bench other;
    auto const& own = other.workspace->library();
    REQUIRE(taken.entries.size() == own.entries.size());
    CHECK(taken.entries.size() == total);
    for (std::size_t i = 0; i < own.entries.size(); ++i) {
        CHECK(taken.entries[i].sha256 == own.entries[i].sha256);
        CHECK(taken.entries[i].signatures.size() == own.entries[i].signatures.size());
        CHECK(taken.entries[i].faults.size() == own.entries[i].faults.size());
    }
}

TEST_CASE("of a reading that was cancelled nothing is taken, and the earlier library stays in use")
{
    Bench bench;
    std::size_t const all = bench.workspace->library().entries.size();
    int const readings = bench.workspace->library_reading();
    bench.workspace->forget_library();
    bench.workspace->take_library(bench.workspace->library_reader()(
        [](std::size_t done, std::size_t, std::string_view) { return done < 2; }));
    CHECK_FALSE(bench.workspace->library_is_read());
    CHECK(bench.workspace->library_reading() == readings);
    CHECK(bench.workspace->library().entries.size() == all);
}

TEST_CASE("what changes while the library is read is seen by the next reading")
{
    Bench bench;
    test::GatedDisk gate(*bench.disk);
    disk::Path const source(ISOCHORE_SOURCE_DIR);
    bench.workspace.reset();
    auto opened =
        Workspace::open({bench.folder, source / "checklists", source / "profiles"}, bench.clock, gate);
    REQUIRE(opened);
    auto& workspace = **opened;
    std::size_t const all = workspace.library().entries.size();
    workspace.forget_library();
    gate.shut_after(1);
    Workspace::LibraryRead read;
    std::thread reading([&, reader = workspace.library_reader()] { read = reader({}); });
    gate.wait_until_held();
    // The folder was listed already when a draft comes.
    auto draft = files::read_library(*bench.disk, source / "profiles").find("kd-41")->profile;
    draft.id = "kd-42";
    draft.status = "draft";
    draft.signoffs.clear();
    REQUIRE(disk::make_durable_directory(*bench.disk, workspace.own_profiles()));
    REQUIRE(files::store_profile(*bench.disk, workspace.own_profiles(), draft));
    workspace.forget_library(); // as whoever stores a draft does
    gate.open();
    reading.join();
    workspace.take_library(std::move(read));
    CHECK_FALSE(workspace.library_is_read());
    CHECK(workspace.library().entries.size() == all + 1);
    CHECK(workspace.find_profile("kd-42"));
    CHECK(workspace.library_is_read());
}
