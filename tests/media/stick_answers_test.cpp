#include "media/stick_answers.h"
#include "media/test_keys.h"
#include "support/recording_disk.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::media;

TEST_CASE("the answers for scripts name sets, files and hashes", "[media]")
{
    test::RecordingDisk disk;
    auto const written =
        write_set(disk, "/", {{"A.JSN", "abc"}}, test::signer("engineer"), "2025-03-01T08:00:00Z");
    REQUIRE(written);
    CHECK(to_json(*written)["set"] == "S0000001");
    CHECK(to_json(*written)["pruned"].is_array());
    auto const set = newest_valid_set(disk, "/", test::trust("engineer"));
    REQUIRE(set);
    auto const verified = to_json(*set);
    REQUIRE(verified["files"].size() == 1);
    CHECK(verified["files"][0]["bytes"] == 3);
    // FIPS 180-4, example of SHA-256 for "abc".
    CHECK(verified["files"][0]["sha256"] ==
          "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    auto const list = to_json(*list_sets(disk, "/", test::trust("stranger")));
    REQUIRE(list.size() == 1);
    CHECK(list[0]["state"] == "untrusted");
    CHECK_FALSE(list[0]["why"].get<std::string>().empty());
    StickSearch search;
    search.targets.push_back({});
    search.targets[0].folder = "/media/x";
    search.notes = {"note"};
    CHECK(to_json(search)["targets"][0]["name"] == "/media/x");
    CHECK(to_json(search)["targets"][0].contains("usb") == false);
}
