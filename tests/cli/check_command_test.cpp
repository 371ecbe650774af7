#include "cli_support.h"
#include <catch2/catch.hpp>

using namespace cli_test;

namespace {

Said check(cli::Places const& places, std::vector<std::string> const& files)
{
    std::ostringstream out;
    int const code = cli::check_command(places, files, out);
    return {code, out.str()};
}

} // namespace

TEST_CASE("the library that comes with the program has no fault")
{
    Tablet tablet;
    auto const said = check(tablet.places, {});
    INFO(said.text);
    CHECK(said.code == 0);
    CHECK(said.has("0 faults"));
}

TEST_CASE("check names every fault of a broken profile with file and place, and changes nothing")
{
    Tablet tablet;
    auto text = text_of(source_file("profiles/kd-41.json"));
    text = replaced(text, "0.616 MPa abs", "0.616");
    text = replaced(text, "\"145 kV\"", "\"145 kg\"");
    text = replaced(text, "\"spring\"", "\"rubber\"");
    REQUIRE_FALSE(text.empty());
    auto const file = tablet.folder / "broken.json";
    put(file, text);
    auto const before = contents(tablet.folder.path());
    auto const said = check(tablet.places, {file.string()});
    INFO(said.text);
    CHECK(said.code == 1);
    for (char const* place : {"gas.nominal", "rating.voltage", "breaker.mechanism"}) {
        auto const at = said.text.find(place);
        REQUIRE(at != std::string::npos);
        auto const line = said.text.rfind('\n', at);
        CHECK(said.text.compare(line == std::string::npos ? 0 : line + 1, 11, "broken.json") == 0);
    }
    CHECK(said.has("1 files checked, 3 faults"));
    CHECK(contents(tablet.folder.path()) == before);
}

TEST_CASE("check names every fault of a broken checklist with file and place")
{
    Tablet tablet;
    auto text = text_of(source_file("checklists/09_settings.json"));
    text = replaced(text, "\"order\": 9", "\"order\": \"nine\"");
    text = replaced(text, "\"Boxes get swapped.\"", "17");
    REQUIRE_FALSE(text.empty());
    auto const file = tablet.folder / "09_settings.json";
    put(file, text);
    auto const said = check(tablet.places, {file.string()});
    INFO(said.text);
    CHECK(said.code == 1);
    CHECK(said.has("09_settings.json: order"));
    CHECK(said.has("steps[0].why"));
}

TEST_CASE("check of the whole library sees a need of a step that does not exist")
{
    Tablet tablet;
    auto const share = tablet.folder / "share";
    std::filesystem::create_directories(share);
    for (char const* part : {"checklists", "profiles"})
        std::filesystem::copy(source_file(part), share / part, std::filesystem::copy_options::recursive);
    auto const file = share / "checklists/09_settings.json";
    auto const text =
        replaced(text_of(file), "\"settings.write\", \"stage:safe\"", "\"settings.writ\", \"stage:safe\"");
    REQUIRE_FALSE(text.empty());
    put(file, text);
    auto const said = check({share.string(), {}}, {});
    INFO(said.text);
    CHECK(said.code == 1);
    CHECK(said.has("settings.writ"));
    CHECK(said.has("09_settings.json"));
}

TEST_CASE("a file that is not there could not be checked, which is no verdict on it")
{
    Tablet tablet;
    auto const said = check(tablet.places, {(tablet.folder / "absent.json").string()});
    CHECK(said.code == 2);
    CHECK(said.has("absent.json"));
}
