#include "files/profile_file.h"
#include "files/profile_samples.h"
#include "model/profile_derived.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

using namespace isochore;
using files::FileReport;
using samples::replaced;

namespace {

/// Whether one of the errors stands at a place that ends so and says all of the words.
bool has(FileReport const& report, std::string const& place, std::vector<std::string> const& words = {})
{
    return std::any_of(report.errors.begin(), report.errors.end(), [&](Error const& e) {
        return e.where.ends_with(place) && std::all_of(words.begin(), words.end(), [&](auto const& word) {
                   return e.detail.find(word) != std::string::npos;
               });
    });
}

std::string listed(FileReport const& report)
{
    std::string all;
    for (auto const& e : report.errors)
        all += e.where + ": " + e.detail + "\n";
    return all;
}

FileReport read(std::string const& text)
{
    FileReport report;
    auto const profile = files::read_profile(text, "p.json", report);
    if (report.ok())
        return files::check_profile(profile, "p.json");
    return report;
}

std::string kd41()
{
    return samples::profile_text("kd-41");
}

/// kd-41 with one value replaced.
model::Profile changed(std::string const& path, std::string const& value)
{
    FileReport report;
    auto profile = files::read_profile(kd41(), "p.json", report);
    profile.values[path].value = value;
    return profile;
}

} // namespace

TEST_CASE("every profile that comes with the program reads, holds together and is written back to the byte",
          "[files][profile]")
{
    auto const paths = samples::profile_paths();
    REQUIRE(paths.size() >= 5);
    std::set<std::string> mechanisms, voltages, frequencies;
    for (auto const& path : paths) {
        CAPTURE(path.string());
        FileReport report;
        auto const text = samples::text_of(path);
        auto const profile = files::read_profile(text, path.filename().string(), report);
        INFO(listed(report));
        REQUIRE(report.ok());
        auto const check = files::check_profile(profile, path.filename().string());
        INFO(listed(check));
        CHECK(check.ok());
        CHECK(files::write_profile(profile) == text);
        CHECK(profile.invented);
        CHECK(profile.id == path.stem().string());
        mechanisms.insert(profile.text("breaker.mechanism"));
        voltages.insert(profile.text("rating.voltage"));
        frequencies.insert(profile.text("rating.frequency"));
    }
    CHECK(mechanisms.size() >= 2);
    CHECK(voltages.size() >= 2);
    CHECK(frequencies == std::set<std::string>{"50 Hz", "60 Hz"});
}

TEST_CASE("all faults of a profile are reported at once, each with its place", "[files][profile]")
{
    auto text = replaced(kd41(), "\"0.616 MPa abs\"", "\"0.616 MPa\"");
    text = replaced(text, "\"spring\"", "\"clockwork\"");
    text = replaced(text, "\"125 V\"", "\"125\"");
    text = replaced(text, "\"trip_coils\": { \"value\": \"2\"", "\"trip_coils\": { \"value\": \"two\"");
    text = replaced(text, "\"date\": \"2025-02-10\"", "\"date\": \"2025-02-30\"");
    text = replaced(text, "\"dc_max\": {", "\"dc_most\": {");
    auto const report = read(text);
    INFO(listed(report));
    CHECK(has(report, "p.json: values.gas.nominal.value", {"0.616 MPa"}));
    CHECK(has(report, "p.json: values.breaker.mechanism.value", {"clockwork", "spring-hydraulic"}));
    CHECK(has(report, "p.json: values.control.dc_nominal.value"));
    CHECK(has(report, "p.json: values.control.trip_coils.value", {"two"}));
    CHECK(has(report, "p.json: date", {"2025-02-30"}));
    CHECK(has(report, "p.json: values.control.dc_most"));
    CHECK(report.errors.size() == 6);
}

TEST_CASE("a member nobody knows, a missing one and a wrong type are refused", "[files][profile]")
{
    CHECK(has(read(replaced(kd41(), "\"parent\": 0,", "\"parent\": 0, \"colour\": 1,")), "p.json: colour"));
    CHECK(has(read(replaced(kd41(), "  \"invented\": true,\n", "")), "p.json: invented"));
    CHECK(has(read(replaced(kd41(), "\"invented\": true", "\"invented\": \"yes\"")), "p.json: invented"));
    CHECK(has(read(replaced(kd41(), "\"revision\": 1", "\"revision\": 1.5")), "p.json: revision"));
    CHECK(has(read(replaced(kd41(), "\"revision\": 1", "\"revision\": 0")), "p.json: revision"));
    CHECK(has(read(replaced(kd41(), "\"parent\": 0", "\"parent\": 1")), "p.json: parent"));
    CHECK(has(read(replaced(kd41(), "\"id\": \"kd-41\"", "\"id\": \"../kd\"")), "p.json: id"));
    CHECK(has(read(replaced(kd41(), "\"status\": \"released\",\n  \"invented\"",
                            "\"status\": \"perfect\",\n  \"invented\"")),
              "p.json: status"));
    CHECK(has(read(replaced(kd41(), "\"KD-41\"", "\"\"")), "values.breaker.model.value", {"empty"}));
    CHECK(has(read(replaced(kd41(), "\"KD-41\"", "\"KD\\n41\"")), "values.breaker.model.value", {"control"}));
    CHECK(has(read("[]"), "p.json"));
    CHECK(has(read("{}"), "p.json: format"));
    CHECK_FALSE(read("").ok());
}

TEST_CASE("a profile of a later version is refused by its version, not by what is in it", "[files][profile]")
{
    auto const report = read(replaced(kd41(), "isochore.profile/1", "isochore.profile/2"));
    REQUIRE(report.errors.size() == 1);
    CHECK(has(report, "p.json: format", {"isochore.profile/2", "update"}));
}

TEST_CASE("gas limits are held against each other as densities", "[files][profile]")
{
    SECTION("a gauge alarm that looks lower than an absolute filling is not")
    {
        // 0.53 MPa g is 0.631 MPa abs: above the filling, though the number is smaller.
        CHECK(has(files::check_profile(changed("gas.warn", "0.53 MPa g"), "p"), "gas.warn", {"kg/m³"}));
    }
    SECTION("the same pressure in gauge passes")
    {
        CHECK(files::check_profile(changed("gas.warn", "0.457 MPa g"), "p").ok());
    }
    SECTION("lockout at the alarm is refused")
    {
        CHECK(has(files::check_profile(changed("gas.lockout", "0.559 MPa abs"), "p"), "gas.lockout"));
    }
    SECTION("a filling that would be liquid is refused")
    {
        CHECK(has(files::check_profile(changed("gas.nominal", "2.5 MPa abs"), "p"), "gas.nominal"));
    }
    SECTION("a filling that liquefies above the lowest ambient is refused")
    {
        // Saturated vapour of about 40 kg/m3 at -30.3 degC: computed with the reference equation.
        CHECK(has(files::check_profile(changed("rating.lowest_ambient", "-31 degC"), "p"), "gas.nominal",
                  {"-30.3 °C", "-31 degC"}));
        CHECK(files::check_profile(changed("rating.lowest_ambient", "-30.2 degC"), "p").ok());
    }
}

TEST_CASE("values that contradict each other are refused with both numbers", "[files][profile]")
{
    struct Case {
        char const *path, *value, *place, *word;
    };
    auto const c = GENERATE(values<Case>({
        {"control.dc_min", "130 V", "control.dc_min", "125 V"},
        {"control.dc_max", "120 V", "control.dc_nominal", "120 V"},
        {"unit.pick_up", "75 V", "unit.pick_up", "70 V"},
        {"unit.drop_out", "60 V", "unit.drop_out", "60 V"},
        {"control.trip_coils", "0", "control.trip_coils", "at least one"},
        {"timing.open_max", "50 ms", "timing.open_max", "50 ms"},
        {"timing.open_min", "40 ms", "timing.open_min", "32 ms"},
        {"timing.close_min", "71 ms", "timing.close_min", "70 ms"},
        {"timing.open_spread", "1 cycles", "timing.open_spread", "whole period"},
        {"rating.frequency", "55 Hz", "rating.frequency", "55 Hz"},
        {"gas.purity_limit", "103 %", "gas.purity_limit", "103 %"},
        {"gas.max_pressure", "0.6 MPa abs", "gas.max_pressure", "0.616 MPa abs"},
        {"gas.leak_limit", "0 %/yr", "gas.leak_limit", "more than zero"},
        {"gas.nameplate_mass", "-12 kg", "gas.nameplate_mass", "more than zero"},
        {"ct.full_ratio", "2000/5", "ct.full_ratio", "2000:5"},
        {"ct.full_ratio", "2000:3", "ct.full_ratio", "3 A"},
        {"ct.full_ratio", "1:5", "ct.full_ratio", "wrong way"},
        {"sensor.range_high", "38 kg/m3", "sensor.range_high", "gas.nominal"},
        {"sensor.range_low", "31 kg/m3", "sensor.range_high", "gas.lockout"},
        {"sensor.range_low", "70 kg/m3", "sensor.range_low", "60 kg/m3"},
    }));
    CAPTURE(c.path, c.value);
    auto const report = files::check_profile(changed(c.path, c.value), "p");
    INFO(listed(report));
    CHECK(has(report, c.place, {c.word}));
}

TEST_CASE("a profile that breaks a rule of every family is told of all of them at once", "[files][profile]")
{
    FileReport unused;
    auto profile = files::read_profile(kd41(), "p", unused);
    auto const set = [&](char const* path, char const* value) { profile.values[path].value = value; };
    set("gas.warn", "0.53 MPa g");                     // above the filling, though the number is smaller
    set("gas.lockout", "0.64 MPa abs");                // above the alarm
    set("gas.max_pressure", "0.5 MPa abs");            // below the filling
    set("gas.purity_limit", "120 %");                  // more than the whole
    set("rating.lowest_ambient", "-45 degC");          // colder than the filling bears
    set("rating.frequency", "55 Hz");                  // no power frequency
    set("timing.open_max", "90 ms");                   // longer than the rated cycles
    set("timing.close_min", "200 ms");                 // above its own maximum
    set("timing.open_spread", "2 cycles");             // longer than a period
    set("control.dc_min", "150 V");                    // above the nominal voltage
    set("control.trip_coils", "0");                    // no coil
    set("unit.drop_out", "90 V");                      // above the pick-up
    set("ct.full_ratio", "5:2000");                    // the wrong way round
    set("gas.leak_limit", "-1 %/yr");                  // less than nothing
    profile.values["timing.close_max"].source.clear(); // a limit that comes from nowhere
    profile.values.erase("control.dc_max");            // needed
    profile.signoffs[1].person = profile.author;       // nobody releases their own
    auto const report = files::check_profile(profile, "p");
    INFO(listed(report));
    for (char const* place :
         {"p: gas.warn", "p: gas.lockout", "p: gas.max_pressure", "p: gas.purity_limit", "p: gas.nominal",
          "p: rating.frequency", "p: timing.open_max", "p: timing.close_min", "p: timing.open_spread",
          "p: control.dc_min", "p: control.trip_coils", "p: unit.drop_out", "p: ct.full_ratio",
          "p: gas.leak_limit", "p: timing.close_max", "p: control.dc_max", "p: signoffs"}) {
        CAPTURE(place);
        CHECK(has(report, place));
    }
}

TEST_CASE("what follows from the values is shown and has no place in the file", "[files][profile]")
{
    FileReport unused;
    auto const profile = files::read_profile(kd41(), "p", unused);
    auto const derived = model::derive(profile);
    REQUIRE(derived.values.size() >= 10);
    auto const written = files::write_profile(profile);
    for (auto const& value : derived.values) {
        CAPTURE(value.path);
        // Neither a field of the format, nor written beside the others.
        CHECK(model::profile_field(value.path) == nullptr);
        auto const name = std::string(value.path).substr(std::string(value.path).find('.') + 1);
        CHECK(written.find("\"" + name + "\"") == std::string::npos);
        CHECK_FALSE(value.from.empty());
    }
    // Stored by hand it is refused like any member nobody knows, so that it cannot contradict its values.
    auto const stored = replaced(kd41(), "\"nominal\": {",
                                 "\"nominal_density\": { \"value\": \"40 kg/m3\", \"source\": \"x\", "
                                 "\"confidence\": \"confirmed\" }, \"nominal\": {");
    CHECK(has(read(stored), "p.json: values.gas.nominal_density"));
}

TEST_CASE("a limit without a source is refused, an ordinary value without one is not", "[files][profile]")
{
    FileReport unused;
    auto profile = files::read_profile(kd41(), "p", unused);
    profile.values["gas.warn"].source = "  ";
    profile.values["unit.mass"].source = "";
    auto const report = files::check_profile(profile, "p");
    REQUIRE(report.errors.size() == 1);
    CHECK(has(report, "p: gas.warn", {"0.559 MPa abs"}));
}

TEST_CASE("every limit of a profile needs a source and a confidence, and every pressure its reference",
          "[files][profile]")
{
    auto const text = kd41();
    int limits = 0, pressures = 0;
    for (auto const& field : model::profile_fields()) {
        FileReport unused;
        auto profile = files::read_profile(text, "p", unused);
        auto const it = profile.values.find(field.path);
        if (it == profile.values.end())
            continue;
        CAPTURE(field.path);
        if (field.limit) {
            ++limits;
            it->second.source = " ";
            CHECK(has(files::check_profile(profile, "p"), "p: " + std::string(field.path), {"comes from"}));
            it->second.source = "somewhere";
            // A confidence that is missing or of another kind does not even read.
            auto const written = files::write_profile(profile);
            auto const value = written.find("\"somewhere\"");
            REQUIRE(value != std::string::npos);
            auto const confidence = written.find("\"unconfirmed\"", value);
            REQUIRE(confidence != std::string::npos);
            auto wrong = written;
            wrong.replace(confidence, 13, "\"certain\"");
            CHECK(has(read(wrong), std::string(field.path) + ".confidence"));
            it->second.source = "somewhere";
        }
        if (field.dimension == Dimension::pressure) {
            ++pressures;
            auto const bare = it->second.value.substr(0, it->second.value.rfind(' '));
            it->second.value = bare;
            CHECK(has(files::check_profile(profile, "p"), "p: " + std::string(field.path), {bare}));
        }
    }
    CHECK(limits >= 15);
    CHECK(pressures >= 4);
}

TEST_CASE("a required value that is missing is named by its label", "[files][profile]")
{
    FileReport unused;
    auto profile = files::read_profile(kd41(), "p", unused);
    profile.values.erase("control.dc_max");
    CHECK(has(files::check_profile(profile, "p"), "p: control.dc_max", {"Highest control voltage"}));
}

TEST_CASE("sign-offs must be in order and by two people", "[files][profile]")
{
    FileReport unused;
    auto profile = files::read_profile(kd41(), "p", unused);
    SECTION("one person for both is refused, however the name is spelt")
    {
        profile.signoffs[1].person = "r.  oyelaran";
        CHECK(has(files::check_profile(profile, "p"), "signoffs", {"second"}));
    }
    SECTION("the author cannot release")
    {
        profile.signoffs[1].person = profile.author;
        CHECK(has(files::check_profile(profile, "p"), "signoffs", {"author"}));
    }
    SECTION("a status without its sign-off is refused")
    {
        profile.signoffs.pop_back();
        CHECK(has(files::check_profile(profile, "p"), "status", {"released", "checked"}));
    }
    SECTION("a release that was never checked is refused")
    {
        profile.signoffs.erase(profile.signoffs.begin());
        CHECK(has(files::check_profile(profile, "p"), "signoffs[0]", {"checked"}));
    }
}

TEST_CASE("a profile cut off at any byte is refused without harm", "[files][profile][hostile]")
{
    auto const text = kd41();
    for (std::size_t n = 0; n + 2 < text.size(); n += 7) {
        FileReport report;
        (void)files::read_profile(std::string_view(text).substr(0, n), "p", report);
        CHECK_FALSE(report.ok());
    }
}

TEST_CASE("a profile deep, huge or with a name twice is refused by what is wrong with it",
          "[files][profile][hostile]")
{
    std::string deep(100'000, '[');
    CHECK_FALSE(read(deep).ok());
    CHECK_FALSE(
        read("{\"format\":\"isochore.profile/1\",\"title\":\"" + std::string(1u << 20, 'x') + "\"}").ok());
    CHECK_FALSE(read(replaced(kd41(), "\"parent\": 0,", "\"parent\": 0, \"parent\": 0,")).ok());
}
