#include "disk/whole_file.h"
#include "journal/attachments.h"
#include "journal/chain.h"
#include "seal/keys.h"
#include "seal/record.h"
#include "support/faulting_disk.h"
#include "support/recording_disk.h"
#include "json/read.h"
#include <catch2/catch.hpp>
#include <set>

// Every operation is a crash point; what was not flushed is lost in every combination within the bound.
using namespace isochore;
using namespace isochore::test;

namespace {

constexpr std::size_t least_states = 1000;

void tell(char const* what, CrashCount count)
{
    WARN(what << ": " << count.points << " crash points, " << count.states << " different states");
    CHECK(count.states >= least_states);
}

std::string picture(int i)
{
    return "photo " + std::to_string(i) + std::string(3500, static_cast<char>('a' + i));
}

std::string some_record(seal::TabletKey const& key, int entries)
{
    std::vector<journal::Entry> chain;
    std::string prev(journal::no_hash);
    for (int i = 1; i <= entries; ++i) {
        chain.push_back(*journal::make_entry("j", i, prev, {{"typed", std::to_string(i) + " bar g"}}));
        prev = chain.back().hash;
    }
    return *seal::seal_entries("j", chain, {}, key);
}

} // namespace

TEST_CASE("attachments survive any power cut: what was confirmed is there, and nothing is half")
{
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/data"));
    disk.settle();
    std::map<std::string, std::string> all;
    for (int i = 0; i < 12; ++i) {
        journal::Attachments attachments(disk, "/data");
        auto const hash = attachments.keep(picture(i));
        REQUIRE(hash);
        all[*hash] = picture(i);
        disk.confirm(*hash);
    }
    // One of them again: nothing new is written, and it counts as confirmed.
    REQUIRE(journal::Attachments(disk, "/data").keep(picture(3)));
    auto const count =
        explore_crashes(disk, {.atomic_rename = true, .states_per_point = 512},
                        [&](RecordingDisk& after, auto const& promises) {
                            journal::Attachments attachments(after, "/data");
                            for (std::string const& hash : promises)
                                if (attachments.read(hash) != all.at(hash))
                                    FAIL("a confirmed attachment is lost: " << hash);
                            for (auto const& [hash, bytes] : all) // there and right, or not there
                                if (attachments.has(hash) && attachments.read(hash) != bytes)
                                    FAIL("a half attachment: " << hash);
                            for (auto const& [hash, bytes] : all) // and work goes on
                                if (attachments.keep(bytes) != hash)
                                    FAIL("cannot go on");
                        });
    tell("attachments", count);
}

TEST_CASE(
    "the key survives any power cut, also one in the start after a power cut: never half, never another")
{
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/data"));
    disk.settle();
    auto const key = seal::load_or_make_key(disk, "/data");
    REQUIRE(key);
    disk.confirm(key->public_key());
    CrashModel const model{.states_per_point = 1024, .sector_bytes = 24};
    auto const start = [](RecordingDisk& after, std::vector<std::string> const& used) {
        auto const next = seal::load_or_make_key(after, "/data");
        if (!next)
            FAIL(next.error().detail);
        if (!used.empty() && next->public_key() != used.back())
            FAIL("a key that signed was lost");
        after.confirm(next->public_key());
    };
    CrashCount nested;
    auto const count = explore_crashes(disk, model, [&](RecordingDisk& after, auto const& used) {
        start(after, used);
        CrashModel second = model;
        second.states_per_point = 16;
        auto const inner = explore_crashes(after, second, [&](RecordingDisk& again, auto used_then) {
            used_then.insert(used_then.begin(), used.begin(), used.end());
            start(again, used_then);
        });
        nested.points += inner.points;
        nested.states += inner.states;
    });
    WARN("tablet key, second power cut: " << nested.points << " crash points, " << nested.states
                                          << " states");
    tell("tablet key, both", {count.points + nested.points, count.states + nested.states});
}

TEST_CASE("records survive any power cut: whole and verifying under their name, or not there")
{
    auto const key = *seal::TabletKey::from_seed(std::string(64, '5'));
    RecordingDisk disk;
    REQUIRE(disk.make_directory("/out"));
    disk.settle();
    std::map<std::string, std::string> written;
    for (int i = 1; i <= 12; ++i) {
        std::string const name = "/out/record-" + std::to_string(i) + ".json";
        written[name] = some_record(key, 6 + 4 * i);
        REQUIRE(seal::write_record(disk, name, written[name]));
        disk.confirm(name);
    }
    auto const count =
        explore_crashes(disk, {.states_per_point = 512}, [&](RecordingDisk& after, auto const& promises) {
            for (std::string const& name : promises)
                if (after.read(name, 1u << 20) != written.at(name))
                    FAIL("a confirmed record is lost: " << name);
            for (auto const& [name, text] : written) {
                if (after.exists(name) && !seal::verify_record(*after.read(name, 1u << 20)))
                    FAIL("a half record: " << name);
                if (!after.exists(name) && !seal::write_record(after, name, text))
                    FAIL("cannot go on: " << name);
            }
        });
    tell("record writer", count);
}

TEST_CASE("a file system whose rename is not atomic may lose a name but never shows half a file")
{
    auto const key = *seal::TabletKey::from_seed(std::string(64, '5'));
    RecordingDisk disk;
    std::string const text = some_record(key, 12);
    REQUIRE(seal::write_record(disk, "/r.json", text));
    disk.confirm("written");
    explore_crashes(disk, {.atomic_rename = false, .states_per_point = 4096},
                    [&](RecordingDisk& after, auto const& promises) {
                        bool const there = after.exists("/r.json");
                        if (there && after.read("/r.json", 1u << 20) != text)
                            FAIL("half a record");
                        if (!promises.empty() && !there)
                            FAIL("a confirmed record is lost");
                    });
}

TEST_CASE("the exploration would find the faults it is meant to find")
{
    // The same protocol without one of its flushes must fail, or the tests above prove nothing.
    for (int const left_out : {1, 2}) {
        RecordingDisk disk;
        REQUIRE(disk.create("/f.part", "all of it"));
        if (left_out != 1)
            REQUIRE(disk.flush_file("/f.part"));
        REQUIRE(disk.rename("/f.part", "/f"));
        if (left_out != 2)
            REQUIRE(disk.flush_directory("/"));
        disk.confirm("written");
        std::set<std::string> seen;
        explore_crashes(disk, {}, [&](RecordingDisk& after, auto const& promises) {
            if (!promises.empty())
                seen.insert(after.exists("/f") ? *after.read("/f", 100) : "lost");
        });
        CHECK(seen.size() > 1);
    }
}

TEST_CASE(
    "whichever call fails while an attachment or record is written, nothing half is left under its name")
{
    auto const key = *seal::TabletKey::from_seed(std::string(64, '5'));
    std::string const record = some_record(key, 5), bytes = picture(1), hash = sha256_hex(bytes);
    for (Fault const fault : {Fault::full, Fault::short_write, Fault::broken, Fault::read_only})
        for (bool const lasting : {false, true})
            for (int n = 1;; ++n) {
                RecordingDisk disk;
                FaultingDisk faulting(disk, n, fault, lasting);
                auto const kept = journal::Attachments(faulting, "/").keep(bytes);
                auto const written = seal::write_record(faulting, "/r.json", record);
                if (!faulting.failed()) {
                    CHECK(n > 10);
                    break;
                }
                CHECK_FALSE((kept && written));
                for (auto const* failure :
                     {kept ? nullptr : &kept.error(), written ? nullptr : &written.error()})
                    if (failure)
                        CHECK(failure->detail.find('/') != std::string::npos); // names the file
                journal::Attachments attachments(disk, "/");
                if (attachments.has(hash))
                    CHECK(attachments.read(hash) == bytes);
                if (disk.exists("/r.json"))
                    CHECK(disk.read("/r.json", 1u << 20) == record);
                CHECK(attachments.keep(bytes) == hash); // the disk is well again: work goes on
                if (!disk.exists("/r.json"))
                    CHECK(seal::write_record(disk, "/r.json", record));
            }
}
