#include "crash/model_vfs.h"
#include "journal/store.h"
#include <catch2/catch.hpp>

// Exports and migrations write whole files around SQLite: the same power cuts for them.
using namespace isochore;
using namespace isochore::test;

namespace {

constexpr std::size_t least_states = 1000;
constexpr int entries = 6;

std::unique_ptr<journal::Journal> opened(RecordingDisk& disk, char const* folder,
                                         journal::Schema const& schema = journal::current_schema())
{
    ModelVfs::use(disk);
    auto store = journal::open_store(folder, {.disk = disk, .vfs = ModelVfs::name(), .schema = &schema},
                                     journal::FileLock(), {});
    if (!store)
        FAIL(store.error().detail);
    return std::move(*store);
}

RecordingDisk with_journal()
{
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/data"));
    auto const store = opened(disk, "/data");
    for (int i = 0; i < entries; ++i)
        REQUIRE(store->append("job", {{"i", i}, {"typed", std::string(3500, 'x')}}));
    return disk;
}

void check_whole(journal::Journal& store)
{
    auto const all = store.entries("job");
    if (!all || all->size() != entries || !store.verify_all())
        FAIL("a journal is not whole");
}

} // namespace

TEST_CASE("a power cut during an export leaves a whole copy or none, and the journal as it was")
{
    RecordingDisk disk = with_journal();
    REQUIRE(disk.make_directory("/out"));
    disk.settle();
    {
        auto const store = opened(disk, "/data");
        REQUIRE(store->export_to("/out/journal.db"));
        disk.confirm("exported");
    }
    auto const count =
        explore_crashes(disk, {.states_per_point = 320}, [&](RecordingDisk& after, auto const& promises) {
            if (after.exists("/out/journal.db"))
                check_whole(*opened(after, "/out"));
            else if (!promises.empty())
                FAIL("a confirmed export is lost");
            auto const store = opened(after, "/data");
            check_whole(*store);
            if (!after.exists("/out/journal.db") && !store->export_to("/out/journal.db"))
                FAIL("cannot export again");
        });
    WARN("export: " << count.points << " crash points, " << count.states << " different states");
    CHECK(count.states >= least_states);
}

TEST_CASE(
    "a power cut during a migration leaves the old journal or the new one, each whole, and a copy first")
{
    std::vector<journal::SchemaPart> parts(journal::current_schema().parts.begin(),
                                           journal::current_schema().parts.end());
    parts.push_back({"note", "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT"});
    journal::Migration const step{1, "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT"};
    journal::Schema const next{2, parts, {&step, 1}};

    RecordingDisk disk = with_journal();
    disk.settle();
    opened(disk, "/data", next).reset();
    disk.confirm("migrated");
    auto const count =
        explore_crashes(disk, {.states_per_point = 320}, [&](RecordingDisk& after, auto const&) {
            check_whole(*opened(after, "/data", next)); // goes on from wherever it was cut off
            if (!after.exists("/data/journal-version-1.db"))
                FAIL("migrated without a copy");
            // The copy is a journal of the old version: it opens under its own name in a folder of its own.
            REQUIRE(after.make_directory("/old"));
            REQUIRE(after.rename("/data/journal-version-1.db", "/old/journal.db"));
            check_whole(*opened(after, "/old"));
        });
    WARN("migration: " << count.points << " crash points, " << count.states << " different states");
    CHECK(count.states >= least_states);
}
