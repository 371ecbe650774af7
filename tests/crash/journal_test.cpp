#include "crash/model_vfs.h"
#include "journal/store.h"
#include "support/faulting_disk.h"
#include <catch2/catch.hpp>
#include <map>
#include <sqlite3.h>

using namespace isochore;
using namespace isochore::test;

namespace {

constexpr std::size_t least_states = 1000;

Result<std::unique_ptr<journal::Journal>> open_on(RecordingDisk& disk)
{
    ModelVfs::use(disk);
    REQUIRE(disk.make_directory("/data"));
    // Few pages in the log, so that carrying over and starting again are part of what is explored.
    return journal::open_store("/data", {.disk = disk, .vfs = ModelVfs::name(), .checkpoint_pages = 12},
                               journal::FileLock(), {});
}

std::unique_ptr<journal::Journal> opened(RecordingDisk& disk)
{
    auto store = open_on(disk);
    if (!store)
        FAIL(store.error().detail);
    return std::move(*store);
}

/// The bodies the scenario appends: short ones and one over several pages.
Json body_of(int i)
{
    return {{"i", i}, {"typed", std::string(i % 5 == 4 ? 9000u : 40u, 'x')}};
}

std::string job_of(int i)
{
    return i % 3 == 2 ? "b" : "a";
}

void append_some(RecordingDisk& disk, journal::Journal& store, int from, int to)
{
    for (int i = from; i < to; ++i) {
        auto const entry = store.append(job_of(i), body_of(i));
        if (!entry)
            FAIL(entry.error().detail);
        disk.confirm(entry->hash);
    }
}

void check_promises(journal::Journal& store, std::vector<std::string> const& promises)
{
    std::map<std::string, bool> found;
    std::size_t count = 0;
    for (char const* job : {"a", "b"}) {
        auto const entries = store.entries(job);
        if (!entries)
            FAIL(entries.error().detail);
        for (auto const& entry : *entries)
            found[entry.hash] = true, ++count;
        if (auto const good = store.verify(job); !good)
            FAIL(good.error().detail);
    }
    for (std::string const& hash : promises)
        if (!found.contains(hash))
            FAIL("a confirmed entry is lost, of " << promises.size());
    if (count > promises.size() + 1)
        FAIL("entries that nobody wrote");
}

} // namespace

TEST_CASE("the journal survives any power cut: every append that returned is there and the chain holds")
{
    RecordingDisk disk;
    append_some(disk, *opened(disk), 0, 9); // made, written, carried over, closed
    append_some(disk, *opened(disk), 9, 18);
    {
        auto const store = opened(disk);
        append_some(disk, *store, 18, 22); // and cut off while open
    }
    std::size_t rounds = 0;
    auto const count =
        explore_crashes(disk, {.states_per_point = 48}, [&](RecordingDisk& after, auto const& promises) {
            auto const store = opened(after);
            check_promises(*store, promises);
            if (++rounds % 8 == 0) { // slower checks on a share of the states
                if (auto const good = store->verify_all(); !good)
                    FAIL(good.error().detail);
                if (!store->append("a", {{"after", "the crash"}}))
                    FAIL("cannot go on");
            }
        });
    WARN("journal: " << count.points << " crash points, " << count.states << " different states");
    CHECK(count.states >= least_states);
}

TEST_CASE("a power cut while the last one is being recovered from loses nothing either")
{
    RecordingDisk disk;
    append_some(disk, *opened(disk), 0, 2);
    disk.settle();
    std::vector<std::string> before; // entries 0 and 1, settled
    {
        auto const store = opened(disk);
        auto const settled = store->entries("a");
        REQUIRE(settled->size() == 2);
        for (auto const& entry : *settled)
            before.push_back(entry.hash);
        append_some(disk, *store, 2, 6);
    }
    std::size_t states = 0;
    auto const outer =
        explore_crashes(disk, {.states_per_point = 32}, [&](RecordingDisk& after, auto const& promises) {
            std::vector<std::string> all = before;
            all.insert(all.end(), promises.begin(), promises.end());
            opened(after).reset(); // recovers, carries over, closes
            auto const inner =
                explore_crashes(after, {.states_per_point = 12}, [&](RecordingDisk& again, auto const&) {
                    check_promises(*opened(again), all);
                });
            states += inner.states;
        });
    WARN("journal, second power cut: " << outer.states << " first states, " << states << " second states");
    CHECK(states >= least_states);
}

TEST_CASE("the exploration finds the entries a log without flushes would lose")
{
    // SQLite with synchronous=NORMAL does not flush the log at a commit: if this loses nothing, the tests
    // above look at nothing.
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/data"));
    ModelVfs::use(disk);
    auto database =
        journal::Database::open("/data/other.db", journal::Database::Mode::create, ModelVfs::name());
    REQUIRE(database);
    REQUIRE(database->run("PRAGMA locking_mode=EXCLUSIVE; PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;"
                          "CREATE TABLE t(x)"));
    disk.settle();
    for (int i = 0; i < 5; ++i) {
        REQUIRE(database->run("INSERT INTO t VALUES(1)"));
        disk.confirm("row");
    }
    std::size_t lost = 0;
    explore_crashes(disk, {}, [&](RecordingDisk& after, auto const& promises) {
        ModelVfs::use(after);
        auto again =
            journal::Database::open("/data/other.db", journal::Database::Mode::existing, ModelVfs::name());
        REQUIRE(again->run("PRAGMA locking_mode=EXCLUSIVE"));
        auto const rows = again->ask_whole("SELECT COUNT(*) FROM t");
        if (!rows || *rows < static_cast<std::int64_t>(promises.size()))
            ++lost;
    });
    CHECK(lost > 0);
}

TEST_CASE("whichever write fails, the entry is refused in words, nothing confirmed is lost, and work goes on")
{
    struct Row {
        int code;
        char const* words;
    };
    int tried = 0;
    for (Row const& row : {Row{SQLITE_FULL, "full"}, Row{SQLITE_IOERR_WRITE, "fault"},
                           Row{SQLITE_IOERR_FSYNC, "fault"}, Row{SQLITE_READONLY, "read-only"}})
        for (bool const lasting : {false, true})
            for (int n = 1;; ++n) {
                RecordingDisk disk;
                ModelVfs::fail_at(0, 0, false);
                auto store = opened(disk);
                std::vector<std::string> promised;
                ModelVfs::fail_at(n, row.code, lasting);
                bool refused = false;
                for (int i = 0; i < 8; ++i) {
                    auto const entry = store->append(job_of(i), body_of(i));
                    if (entry) {
                        promised.push_back(entry->hash);
                        continue;
                    }
                    refused = true;
                    if (entry.error().detail.find(row.words) == std::string::npos)
                        FAIL(entry.error().detail);
                }
                bool const met = ModelVfs::writes() >= n;
                ModelVfs::fail_at(0, 0, false);
                ++tried;
                if (auto const entry = store->append("a", {{"again", true}}); entry)
                    promised.push_back(entry->hash);
                else
                    FAIL("n " << n << ": " << entry.error().detail);
                check_promises(*store, promised);
                store.reset();
                store = opened(disk);
                check_promises(*store, promised);
                if (!met) {
                    CHECK_FALSE(refused);
                    break;
                }
            }
    WARN("journal: " << tried << " faults at every write and flush of eight entries");
}

TEST_CASE("after a fault the reason stays until the folder takes something again")
{
    RecordingDisk disk;
    ModelVfs::fail_at(0, 0, false);
    opened(disk).reset();
    FaultingDisk counting(disk, 0, Fault::full);
    auto const open_with = [](disk::Disk& below) {
        return journal::open_store("/data", {.disk = below, .vfs = ModelVfs::name()}, journal::FileLock(),
                                   {});
    };
    REQUIRE(open_with(counting));
    FaultingDisk failing(disk, counting.calls() + 1, Fault::full, true); // from the first probe on
    auto store = open_with(failing);
    REQUIRE(store);
    CHECK((*store)->why_read_only().empty()); // nothing failed yet
    ModelVfs::fail_at(1, SQLITE_FULL, false);
    CHECK_FALSE((*store)->append("a", {{"i", 1}}));
    CHECK((*store)->why_read_only().find("full") != std::string::npos);
    CHECK((*store)->why_read_only().find("full") != std::string::npos); // asking again does not heal
    CHECK((*store)->append("a", {{"i", 1}}));                           // but an entry that gets through does
    CHECK((*store)->why_read_only().empty());
}
