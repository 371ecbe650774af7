#include "media/stick_set.h"
#include "media/test_keys.h"
#include "support/faulting_disk.h"
#include "support/recording_disk.h"
#include <catch2/catch.hpp>
#include <iostream>

using namespace isochore;
using namespace isochore::media;
using test::Fault;
using test::FaultingDisk;
using test::RecordingDisk;

namespace {

std::vector<SetFile> files_of(std::string const& mark)
{
    return {{"KD-41.JSN", "{\"profile\":\"" + mark + "\"}\n"}, {"U0000001.JSN", std::string(3000, mark[0])}};
}

Result<WrittenSet> write(disk::Disk& disk, std::string const& mark, int day)
{
    return write_set(disk, "/", files_of(mark), test::signer("engineer"),
                     "2025-03-0" + std::to_string(day) + "T08:00:00Z");
}

RecordingDisk three_sets()
{
    RecordingDisk disk;
    for (int day = 1; day <= 3; ++day)
        REQUIRE(write(disk, "abc" + std::to_string(day), day));
    return disk;
}

bool holds(disk::Disk& disk, std::string const& mark)
{
    auto const set = newest_valid_set(disk, "/", test::trust("engineer"));
    return set && set->files[1].bytes == files_of(mark)[1].bytes &&
           set->files[0].bytes == files_of(mark)[0].bytes;
}

} // namespace

TEST_CASE("whichever call fails, the stick holds the old set or the new one", "[media][fault]")
{
    auto const fault = GENERATE(Fault::full, Fault::short_write, Fault::broken, Fault::read_only);
    bool const lasting = GENERATE(false, true);
    auto const start = three_sets();
    RecordingDisk clean = start;
    FaultingDisk counter(clean, 0, fault);
    REQUIRE(write(counter, "new", 4));
    int const calls = counter.calls();
    REQUIRE(calls > 20);
    int refused = 0, kept_old = 0, noted = 0;
    for (int n = 1; n <= calls; ++n) {
        CAPTURE(n, static_cast<int>(fault), lasting);
        RecordingDisk below = start;
        FaultingDisk disk(below, n, fault, lasting);
        auto const written = write(disk, "new", 4);
        if (!disk.failed())
            continue; // a call that this kind of fault does not touch
        if (written) {
            // Only clearing away may fail unpunished, and then it is said.
            CHECK(holds(below, "new"));
            CHECK_FALSE(written->notes.empty());
            ++noted;
            continue;
        }
        ++refused;
        CHECK_FALSE(written.error().detail.empty());
        bool const old = holds(below, "abc3");
        kept_old += old;
        CHECK((old || holds(below, "new")));
        // The stick is not spoilt for later.
        CHECK(write(below, "later", 5));
        CHECK(holds(below, "later"));
    }
    std::cout << "fault " << static_cast<int>(fault) << (lasting ? " lasting" : " once") << ": " << calls
              << " calls, refused " << refused << ", of these the old set stood in " << kept_old
              << ", said in a note " << noted << "\n";
    CHECK(refused > 0);
    CHECK(kept_old > 0);
}

TEST_CASE("whichever call fails while reading, nothing half is given", "[media][fault]")
{
    auto below = three_sets();
    auto const trust = test::trust("engineer");
    FaultingDisk counter(below, 0, Fault::broken);
    REQUIRE(newest_valid_set(counter, "/", trust));
    for (int n = 1; n <= counter.calls(); ++n) {
        CAPTURE(n);
        FaultingDisk disk(below, n, Fault::broken);
        auto const set = newest_valid_set(disk, "/", trust);
        REQUIRE(disk.failed());
        if (set) {
            CHECK(set->set == "S0000002");
            CHECK(set->files.size() == 2);
            CHECK(set->stale); // an older one instead of the newest is never given silently
        }
    }
}

namespace {

/// A stick that keeps names and loses what is in them: what it gives back is not what it was given.
class LyingDisk : public RecordingDisk {
public:
    Result<std::string> read_uncached(Path const& file, std::size_t limit) override
    {
        auto bytes = RecordingDisk::read_uncached(file, limit);
        if (bytes && file.filename() == "U0000001.JSN")
            bytes->at(1500) = '\0';
        return bytes;
    }
};

} // namespace

TEST_CASE("a stick that gives back other bytes than it was given is found out before it is signed",
          "[media][fault]")
{
    LyingDisk disk;
    auto const written = write(disk, "a", 1);
    REQUIRE_FALSE(written);
    CHECK(written.error().code == Error::Code::corrupt);
    CHECK(written.error().detail.find("do not use this stick") != std::string::npos);
    CHECK(newest_valid_set(disk, "/", test::trust("engineer")).error().code == Error::Code::not_found);
}
