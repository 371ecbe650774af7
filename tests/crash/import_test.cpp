#include "files/profile_library.h"
#include "session/import_set.h"
#include "support/recording_disk.h"
#include <catch2/catch.hpp>
#include <fstream>

// A set taken over from a stick, with the power cut at every moment. The units are entered by one append of
// the journal, whose own cuts model_test.cpp explores: here it has happened or it has not.
using namespace isochore;
using namespace isochore::session;
using test::RecordingDisk;

namespace {

constexpr char const* data = "/data";
constexpr char const* models[] = {"kd-41", "nq-36", "ut-52", "zh-40"};

std::string supplied(std::string const& id)
{
    std::ifstream in(std::string(ISOCHORE_SOURCE_DIR) + "/profiles/" + id + ".json", std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// The first one replaces a draft that was saved here, the others are new.
ImportPlan plan()
{
    ImportPlan p;
    p.id = "S0000001 2026-03-02T08:00:00Z 1a2b 1";
    p.who = "N. Quill";
    p.at = "2026-03-02T08:00:00Z";
    for (auto const* id : models)
        p.profiles.push_back({std::string(id) + ".r1.s" + (id == models[0] ? "2" : "1") + ".json",
                              supplied(id), id == models[0] ? "kd-41.r1.s1.json" : ""});
    media::UnitValues unit;
    unit.job = "T-1";
    unit.profile_id = "kd-41";
    unit.profile_revision = 1;
    unit.values["unit.serial"] = "MU-1";
    p.units.push_back({"u1", unit});
    return p;
}

std::string draft()
{
    std::string text = supplied(models[0]);
    auto const begin = text.find("  \"signoffs\": ["), end = text.find("  \"values\":");
    text.erase(begin, end - begin);
    auto const status = text.find("\"released\"");
    return text.replace(status, 10, "\"draft\"");
}

RecordingDisk with_draft()
{
    RecordingDisk disk;
    REQUIRE(disk.make_directory(data));
    REQUIRE(disk.make_directory("/data/profiles"));
    REQUIRE(disk.create("/data/profiles/kd-41.r1.s1.json", draft()));
    disk.settle();
    return disk;
}

/// Released ones of the plan that the library holds.
int taken(disk::Disk& disk)
{
    auto const library = files::read_library(disk, disk::Path("/data/profiles"));
    for (auto const& error : library.errors)
        FAIL_CHECK(error.where << ": " << error.detail);
    int n = 0;
    for (auto const* id : models) {
        auto const* entry = library.find(id, 1);
        n += entry && entry->profile.status == "released";
    }
    auto const* first = library.find(models[0], 1);
    CHECK(first); // the draft is never lost before its successor is there
    return n;
}

} // namespace

TEST_CASE("a stick's set is taken over whole or not at all, wherever the power goes", "[crash][import]")
{
    auto disk = with_draft();
    auto const p = plan();
    REQUIRE(store_import(disk, data, p));
    disk.confirm("entered"); // the journal's append is durable when it returns
    REQUIRE(end_import(disk, data, p));
    disk.confirm("done");
    int none = 0, all = 0;
    auto const count =
        test::explore_crashes(disk, {.atomic_rename = true, .states_per_point = 200},
                              [&](RecordingDisk& after, auto const& promises) {
                                  bool entered = !promises.empty();
                                  REQUIRE(finish_import(after, data, [&](ImportPlan const& found) {
                                      CHECK(found.id == p.id);
                                      CHECK(found.units.size() == 1);
                                      CHECK(found.units.front().values.text("unit.serial") == "MU-1");
                                      entered = true;
                                      return Result<void>();
                                  }));
                                  int const n = taken(after);
                                  CHECK(n == (entered ? 4 : 0));
                                  CHECK_FALSE(after.exists("/data/import.json"));
                                  (n == 0 ? none : all) += 1;
                              });
    WARN("import of a set: " << count.points << " crash points, " << count.states << " different states, "
                             << none << " with nothing, " << all << " with all of it");
    CHECK(none > 0);
    CHECK(all > 0);
    CHECK(count.states >= 500);
}

TEST_CASE("finishing a broken import may itself be cut off, any number of times", "[crash][import]")
{
    auto disk = with_draft();
    auto const p = plan();
    REQUIRE(store_import(disk, data, p)); // and the power went before the units were entered
    disk.settle();
    REQUIRE(finish_import(disk, data, [&](ImportPlan const&) {
        disk.confirm("entered");
        return Result<void>();
    }));
    auto const count = test::explore_crashes(
        disk, {.atomic_rename = true, .states_per_point = 200}, [&](RecordingDisk& after, auto const&) {
            REQUIRE(finish_import(after, data, [](auto const&) { return Result<void>(); }));
            CHECK(taken(after) == 4);
        });
    CHECK(count.states >= 100);
}

TEST_CASE("an import that fails or is cancelled leaves nothing behind", "[crash][import]")
{
    auto disk = with_draft();
    auto const before = disk.contents();
    auto const p = plan();
    for (std::size_t stop = 0; stop < p.profiles.size(); ++stop) {
        auto const stored =
            store_import(disk, data, p, [&](media::WriteProgress const& at) { return at.done < stop; });
        REQUIRE_FALSE(stored);
        CHECK(stored.error().code == Error::Code::denied);
        CHECK(disk.contents() == before);
    }
    REQUIRE(store_import(disk, data, p)); // and it goes on afterwards
}

TEST_CASE("a damaged plan is put aside, and the program starts", "[crash][import]")
{
    auto disk = with_draft();
    for (std::string const text :
         {"{", "{\"format\":\"something else\"}",
          "{\"format\":\"isochore.import/1\",\"profiles\":[{\"name\":\"../../x.json\",\"text\":\"\"}]}"}) {
        REQUIRE(disk.create("/data/import.json", text));
        REQUIRE(finish_import(disk, data, [](auto const&) -> Result<void> {
            FAIL("nothing of it may be entered");
            return {};
        }));
        CHECK_FALSE(disk.exists("/data/import.json"));
        CHECK(taken(disk) == 0);
    }
    CHECK(disk.exists("/data/import.damaged3"));
}
