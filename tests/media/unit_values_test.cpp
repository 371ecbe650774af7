#include "disk/disk.h"
#include "files/profile_file.h"
#include "files/profile_samples.h"
#include "media/set_names.h"
#include "media/stick_content.h"
#include "media/test_keys.h"
#include "support/recording_disk.h"
#include <algorithm>
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::media;

namespace {

model::Profile kd41()
{
    files::FileReport report;
    auto profile = files::read_profile(samples::profile_text("kd-41"), "kd-41", report);
    REQUIRE(report.ok());
    return profile;
}

UnitValues unit()
{
    return {"2025-W14-ulm-3",
            "kd-41",
            1,
            {{"station.name", "Ravensmoor"},
             {"station.bay", "3"},
             {"breaker.serial", "41-0077"},
             {"unit.serial", "MU-12"},
             {"sensor.serial", "D-9"},
             {"ct.ratio", "1200:5"},
             {"timing.wiring", "across the trip coil"}}};
}

std::map<std::string, std::string, std::less<>> shown_of(UnitSettings const& settings)
{
    std::map<std::string, std::string, std::less<>> shown;
    for (auto const& s : settings.settings)
        shown[s.path] = s.value;
    return shown;
}

ReadBackRow row(UnitSettings const& settings, std::string const& path, std::string const& value)
{
    auto shown = shown_of(settings);
    shown[path] = value;
    auto const rows = compare_read_back(settings, shown);
    return *std::find_if(rows.begin(), rows.end(), [&](auto const& r) { return r.path == path; });
}

} // namespace

TEST_CASE("a unit's values stand over the profile, each with its origin", "[media][unit]")
{
    auto const settings = layer(kd41(), unit());
    REQUIRE(settings.ready());
    CHECK(settings.find("unit.serial")->origin == Setting::Origin::unit);
    CHECK(settings.find("unit.pick_up")->origin == Setting::Origin::profile);
    CHECK(settings.find("gas.warn_density")->origin == Setting::Origin::derived);
    CHECK(settings.find("ct.ratio_to_one")->value == "240.000");
    CHECK(settings.find("timing.auxiliary_offset")->value == "2 ms");
    auto own = unit();
    own.values["timing.auxiliary_offset"] = "2.6 ms";
    auto const replaced = layer(kd41(), own);
    REQUIRE(replaced.ready());
    CHECK(replaced.find("timing.auxiliary_offset")->value == "2.6 ms");
    CHECK(replaced.find("timing.auxiliary_offset")->origin == Setting::Origin::unit);
    CHECK(std::count_if(replaced.settings.begin(), replaced.settings.end(),
                        [](Setting const& s) { return s.path == "timing.auxiliary_offset"; }) == 1);
}

TEST_CASE("the ratio a unit works with counts the auxiliary CT, the passes and a delta lead", "[media][unit]")
{
    // rated transformation ratio, IEEE C57.13; the line current of a balanced delta is sqrt 3 of a phase's
    auto u = unit();
    u.values["ct.turns"] = "2";
    CHECK(layer(kd41(), u).find("ct.ratio_to_one")->value == "240.000");
    CHECK(layer(kd41(), u).find("ct.scale")->value == "120.000");
    u.values["ct.auxiliary"] = "5:2.5";
    CHECK(layer(kd41(), u).find("ct.ratio_to_one")->value == "480.000");
    CHECK(layer(kd41(), u).find("ct.scale")->value == "240.000");
    u.values["ct.lead"] = "delta";
    CHECK(layer(kd41(), u).find("ct.ratio_to_one")->value == "480.000");
    CHECK(layer(kd41(), u).find("ct.scale")->value == "138.564"); // 480 / 2 / sqrt 3
    u.values["ct.auxiliary"] = "2.5:5"; // it may step up
    CHECK(layer(kd41(), u).find("ct.ratio_to_one")->value == "120.000");
    u.values["ct.auxiliary"] = "5:0";
    auto const refused = layer(kd41(), u);
    REQUIRE(refused.missing.size() == 1);
    CHECK(refused.missing[0].where == "ct.auxiliary");
}

TEST_CASE("where breaker and profile disagree, both are shown", "[media][unit]")
{
    auto u = unit();
    u.values["control.dc_nominal"] = "110 V";
    u.values["gas.nominal"] = "0.616 MPa g";
    u.values["gas.nameplate_mass"] = "12000 g"; // the same mass
    u.values["ct.ratio"] = "3000:5";
    u.profile_revision = 2;
    auto const settings = layer(kd41(), u);
    std::vector<std::string> paths;
    for (auto const& c : settings.conflicts)
        paths.push_back(c.path);
    CHECK(paths == std::vector<std::string>{"profile", "control.dc_nominal", "gas.nominal", "ct.ratio"});
    CHECK(settings.conflicts[1].detail.find("110 V") != std::string::npos);
    CHECK(settings.conflicts[1].detail.find("125 V") != std::string::npos);
}

TEST_CASE("what is missing is named; a separate output needs its resistor", "[media][unit]")
{
    auto u = unit();
    u.values.erase("unit.serial");
    u.values["timing.wiring"] = "separate wetted output";
    u.values["ct.turns"] = "two";
    auto const settings = layer(kd41(), u);
    std::vector<std::string> paths;
    for (auto const& e : settings.missing)
        paths.push_back(e.where);
    CHECK(paths == std::vector<std::string>{"unit.serial", "ct.turns", "timing.resistor"});
    auto stray = unit();
    stray.values["timing.resistor"] = "15 kohm";
    CHECK(layer(kd41(), stray).conflicts.size() == 1);
}

TEST_CASE("unit values are read as they were written and refuse what is not theirs", "[media][unit]")
{
    files::FileReport report;
    auto const text = write_unit_values(unit());
    auto const back = read_unit_values(text, "u", report);
    CHECK(report.ok());
    CHECK(back.values == unit().values);
    CHECK(back.job == unit().job);
    CHECK(write_unit_values(back) == text);
    auto const refused = [](std::string const& from, std::string const& to) {
        files::FileReport r;
        (void)read_unit_values(samples::replaced(write_unit_values(unit()), from, to), "u", r);
        return r.errors.size();
    };
    CHECK(refused("isochore.unit/1", "isochore.unit/2") == 1);
    CHECK(refused("\"unit.serial\"", "\"unit.colour\"") == 1);
    CHECK(refused("\"MU-12\"", "12") == 1);
    CHECK(refused("\"MU-12\"", "\"\"") == 1);
    CHECK(refused("across the trip coil", "somehow") == 1);
    CHECK(refused("\"revision\": 1", "\"revision\": 0") == 1);
    CHECK(refused("\"job\":", "\"owner\": 1, \"job\":") == 1);
}

TEST_CASE("a setting read back is the same when it rounds to what is shown", "[media][unit]")
{
    auto const settings = layer(kd41(), unit());
    for (auto const& r : compare_read_back(settings, shown_of(settings))) {
        CAPTURE(r.path, r.detail);
        CHECK(r.state == ReadBackRow::State::same);
    }
    using S = ReadBackRow::State;
    auto const warn = settings.find("gas.warn_density")->value; // 35.993 kg/m3
    REQUIRE(warn.substr(0, 4) == "35.9");
    CHECK(row(settings, "gas.warn_density", "36.0 kg/m3").state == S::same);
    CHECK(row(settings, "gas.warn_density", "36 g/l").state == S::same);
    CHECK(row(settings, "gas.warn_density", "36.1 kg/m3").state == S::differs);
    CHECK(row(settings, "gas.warn_density", "35.99 kg/m3").state == S::same);
    CHECK(row(settings, "gas.warn_density", "36.00 kg/m3").state == S::differs);
    CHECK(row(settings, "gas.warn_density", "3.6 kg/m3").state == S::differs);
    CHECK(row(settings, "gas.warn_density", "36.0").state == S::unreadable);
    CHECK(row(settings, "unit.pick_up", "0.06 kV").state == S::same);
    CHECK(row(settings, "unit.serial", "MU-13").state == S::differs);
    CHECK(row(settings, "unit.serial", " ").state == S::not_shown);
    CHECK(row(settings, "unknown.thing", "1").state == S::differs);
}

TEST_CASE("what goes on a stick comes back from it whole", "[media][unit]")
{
    test::RecordingDisk disk;
    auto const content = stick_content({kd41()}, {{kd41(), unit()}});
    REQUIRE(content);
    REQUIRE(content->size() == 3);
    for (auto const& file : *content)
        CHECK(is_safe_name(file.name));
    REQUIRE(write_set(disk, "/", *content, test::signer("engineer"), "2025-04-01T06:00:00Z"));
    auto const set = newest_valid_set(disk, "/", test::trust("engineer"));
    REQUIRE(set);
    auto const back = read_content(*set);
    CHECK(back.report.ok());
    REQUIRE(back.profiles.size() == 1);
    REQUIRE(back.units.size() == 1);
    CHECK(files::write_profile(back.profiles[0].second) == samples::profile_text("kd-41"));
    CHECK(back.units[0].second.values == unit().values);
    auto const settings = read_settings(set->find("S0000001.JSN")->bytes, "S");
    REQUIRE(settings);
    for (auto const& r : compare_read_back(layer(kd41(), unit()), *settings))
        CHECK(r.state == ReadBackRow::State::same);
}

TEST_CASE("a broken profile or an unready unit never reaches a stick", "[media][unit]")
{
    auto broken = kd41();
    broken.values["gas.warn"].value = "0.7 MPa abs";
    CHECK_FALSE(stick_content({broken}, {}));
    auto other = kd41();
    other.title = "Another text under the same revision";
    CHECK_FALSE(stick_content({kd41(), other}, {}));
    auto u = unit();
    u.values["control.dc_nominal"] = "110 V";
    auto const refused = stick_content({}, {{kd41(), u}});
    REQUIRE_FALSE(refused);
    CHECK(refused.error().detail.find("110 V") != std::string::npos);
}

TEST_CASE("a well-signed stick with a bad profile imports nothing of it", "[media][unit][hostile]")
{
    test::RecordingDisk disk;
    auto files = *stick_content({kd41()}, {});
    files.push_back({"P0000002.JSN", "{\"format\":\"isochore.profile/1\"}"});
    files.push_back({"X0000001.JSN", "{}"});
    REQUIRE(write_set(disk, "/", files, test::signer("engineer"), "2025-04-01T06:00:00Z"));
    auto const back = read_content(*newest_valid_set(disk, "/", test::trust("engineer")));
    CHECK(back.profiles.size() == 1);
    CHECK_FALSE(back.report.ok());
    CHECK(std::any_of(back.report.errors.begin(), back.report.errors.end(),
                      [](Error const& e) { return e.where == "X0000001.JSN"; }));
}
