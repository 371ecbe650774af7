#include "cli/stick_commands.h"
#include "demo_outage.h"
#include <catch2/catch.hpp>

using namespace cli_test;
using cli::StickOptions;

namespace {

StickOptions at(std::filesystem::path const& folder)
{
    StickOptions o;
    o.folder = folder.string();
    return o;
}

} // namespace

TEST_CASE("a stick is written and verified, one flipped byte is refused, and the set before it stays valid")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE_FALSE(outage.create().empty());
    auto const stick = tablet.folder / "stick";
    std::filesystem::create_directories(stick);
    auto o = at(stick);
    o.job = outage.options().job;

    // Before the unit's own values are recorded nothing is written, and the first one missing is named.
    auto const early = tablet.run(cli::stick_write_command, o);
    INFO(early.text);
    CHECK(early.code == 2);
    CHECK(early.has("(missing_input)"));
    CHECK(std::filesystem::is_empty(stick));

    REQUIRE(outage.enter_until("settings.write") == "");
    auto const first = tablet.run(cli::stick_write_command, o);
    INFO(first.text);
    REQUIRE(first.code == 0);
    o.json = true;
    auto const second = tablet.run(cli::stick_write_command, o);
    REQUIRE(second.code == 0);
    CHECK(second.json()["set"] == "S0000002");
    auto const good = tablet.run(cli::stick_verify_command, o);
    REQUIRE(good.code == 0);
    CHECK(good.json()["set"] == "S0000002");
    CHECK(good.json()["files"] == second.json()["files"]);
    CHECK(tablet.run(cli::job_history_command, outage.options()).has("S0000002"));

    auto const file = stick / "ISOCHORE/S0000002/U0000001.JSN";
    auto text = text_of(file);
    REQUIRE_FALSE(text.empty());
    text[text.size() / 2] = static_cast<char>(text[text.size() / 2] ^ 1);
    put(file, text);
    auto named = o;
    named.set = "S0000002";
    auto const flipped = tablet.run(cli::stick_verify_command, named);
    INFO(flipped.text);
    CHECK(flipped.code == 1);
    CHECK(flipped.json()["error"]["code"] == "corrupt");
    CHECK(flipped.has("U0000001.JSN"));
    // Without a name the older set holds, but it is stale: a script must not go on as if nothing were wrong.
    auto const older = tablet.run(cli::stick_verify_command, o);
    CHECK(older.code == 1);
    CHECK(older.json()["set"] == "S0000001");
    CHECK(older.json()["stale"] == true);
    auto const list = tablet.run(cli::stick_list_command, o);
    CHECK(list.code == 1);
    REQUIRE(list.json().size() == 2);
    CHECK(list.json()[0]["state"] == "refused");
    CHECK(list.json()[1]["state"] == "valid");

    // Another tablet does not believe this one's key until it is told to, and makes none by looking.
    auto const key = older.json()["key"].get<std::string>();
    tablet.places.data = (tablet.folder / "other").string();
    named.set = "S0000001";
    CHECK(tablet.run(cli::stick_verify_command, named).code == 1);
    CHECK_FALSE(std::filesystem::exists(tablet.folder / "other"));
    named.keys = {key};
    CHECK(tablet.run(cli::stick_verify_command, named).code == 0);
    named.keys = {"not a key"};
    CHECK(tablet.run(cli::stick_verify_command, named).code == 2);
}

TEST_CASE("a folder without sets, and one that is not there, could not be verified")
{
    Tablet tablet;
    for (auto const& folder : {tablet.folder.path(), tablet.folder / "absent"}) {
        CHECK(tablet.run(cli::stick_verify_command, at(folder)).code == 2);
        CHECK(tablet.run(cli::stick_list_command, at(folder)).code == 2);
    }
}

TEST_CASE(
    "a unit that does not agree with its breaker model is shown with both values, by its id in either form")
{
    Tablet tablet;
    StickOptions o;
    o.profile = "kd-41:1";
    o.values = {"station.name=Corrie Moss",
                "station.bay=Q02",
                "breaker.serial=41-1",
                "unit.serial=MU-1",
                "sensor.serial=GD-1",
                "ct.ratio=1200:5",
                "timing.wiring=across the trip coil"};
    auto const made = tablet.run(cli::stick_unit_command, o);
    CHECK(made.code == 0);
    CHECK(made.text == "desk:u1\n"); // a script takes it as it stands
    o.values = {"ct.ratio=9000:5", "timing.resistor=10 kohm"};
    o.profile.clear();
    o.unit = "desk:u1";
    auto const changed = tablet.run(cli::stick_unit_command, o);
    INFO(changed.text);
    CHECK(changed.code == 0);
    CHECK(changed.has("ct.ratio: 9000:5 is no tap of 2000:5"));
    CHECK(changed.has("timing.resistor: a noise resistor is recorded, but"));
    auto const before = tablet.run(cli::stick_units_command, o);
    CHECK(before.code == 1);
    CHECK(before.has("not ready"));
    CHECK(before.has("9000:5 is no tap of 2000:5"));
    // Looking enters nothing.
    o.values.clear();
    o.unit = "u1";
    auto const shown = tablet.run(cli::stick_unit_command, o);
    CHECK(shown.code == 1);
    CHECK(shown.has("Not ready for a stick"));
    CHECK(shown.has("9000:5"));
    o.json = true;
    auto const json = tablet.run(cli::stick_unit_command, o).json();
    REQUIRE(json["conflicts"].size() == 2);
    CHECK(json["conflicts"][0]["path"] == "ct.ratio");
    CHECK(json["conflicts"][0]["unit"] == "9000:5");
    CHECK(json["conflicts"][0]["profile"] == "2000:5");
    CHECK(json["conflicts"][1]["path"] == "timing.resistor");
    CHECK(tablet.run(cli::stick_units_command, o).json().size() == 1);
    o.json = false;
    // Names that are not there.
    o.unit = "u2";
    CHECK(tablet.run(cli::stick_unit_command, o).has("u2: there is no such unit; near it: u1"));
    o.unit = "u1";
    o.values = {"unit.serail=MU-2"};
    auto const slip = tablet.run(cli::stick_unit_command, o);
    CHECK(slip.code == 2);
    CHECK(slip.has("near it: unit.serial"));
    o.units = {"desk:u3"};
    o.folder = tablet.folder.path().string();
    CHECK(tablet.run(cli::stick_write_units_command, o).has("near it: desk:u1"));
}

TEST_CASE("targets are told with why one cannot be used")
{
    media::StickSearch search;
    media::StickTarget ready;
    ready.use = media::StickTarget::Use::ready;
    ready.folder = "/media/one";
    ready.space = {8'000'000'000, 5'000'000};
    ready.warnings = {"was not taken out properly"};
    media::StickTarget refused;
    refused.block = "sda";
    refused.why = "This disk holds the system.";
    search.targets = {ready, refused};
    search.notes = {"USB events are not available"};
    std::ostringstream people, scripts;
    cli::say_targets(people, search, false);
    CHECK(people.str().find("/media/one, 5.0 MB free") != std::string::npos);
    CHECK(people.str().find("was not taken out properly") != std::string::npos);
    CHECK(people.str().find("not usable. This disk holds the system.") != std::string::npos);
    CHECK(people.str().find("USB events are not available") != std::string::npos);
    cli::say_targets(scripts, search, true);
    auto const answer = read_json(scripts.str(), "answer");
    REQUIRE(answer);
    CHECK((*answer)["targets"].size() == 2);
}
