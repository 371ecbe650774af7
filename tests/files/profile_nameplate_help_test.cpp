#include "files/nameplate_help.h"
#include "files/profile_samples.h"
#include <catch2/catch.hpp>

using namespace isochore;

namespace {

std::string help_text()
{
    return samples::text_of(std::filesystem::path(ISOCHORE_SOURCE_DIR) / "profiles/schema/nameplate.json");
}

files::NameplateHelp help()
{
    files::FileReport report;
    auto const read = files::read_nameplate_help(help_text(), "nameplate.json", report);
    for (auto const& e : report.errors)
        UNSCOPED_INFO(e.where << ": " << e.detail);
    REQUIRE(report.ok());
    return read;
}

} // namespace

TEST_CASE("the help with nameplates that comes with the program reads, and each value fits its field",
          "[files][profile]")
{
    CHECK(help().suggestions.size() >= 10);
    REQUIRE(help().find("rating.voltage"));
    CHECK(help().find("breaker.model") == nullptr);
}

TEST_CASE("a nameplate is completed from the data, and nothing given is replaced", "[files][profile]")
{
    model::Profile p;
    p.values["control.dc_nominal"] = {"0.125 kV", "nameplate", true};
    p.values["control.dc_max"] = {"150 V", "maker's sheet", true};
    auto const done = files::complete_profile(p, help());
    // IEEE C37.06: 125 V dc trips from 70 V to 140 V (from memory).
    CHECK(done.text("control.dc_min") == "70 V");
    CHECK(done.text("control.dc_max") == "150 V");
    CHECK(done.find("control.dc_max")->confirmed);
    CHECK_FALSE(done.find("control.dc_min")->confirmed);
    CHECK_FALSE(done.find("gas.moisture_limit")->source.empty());
    p.values["control.dc_nominal"].value = "110 V";
    p.values.erase("control.dc_max");
    // IEC 62271-1: 70 % and 110 % (from memory).
    CHECK(files::complete_profile(p, help()).text("control.dc_min") == "77 V");
    CHECK(files::complete_profile(p, help()).text("control.dc_max") == "121 V");
    CHECK(files::complete_profile(model::Profile{}, help()).find("control.dc_min") == nullptr);
}

TEST_CASE("faulty help is refused, all faults at once", "[files][profile]")
{
    auto const faults = [](std::string const& text) {
        files::FileReport report;
        (void)files::read_nameplate_help(text, "n", report);
        return report.errors.size();
    };
    CHECK(faults(samples::replaced(help_text(), "isochore.nameplate/1", "isochore.nameplate/2")) == 1);
    CHECK(faults(samples::replaced(help_text(), "\"38 kV\"", "\"38\"")) == 1);
    CHECK(faults(samples::replaced(help_text(), "\"share\": 0.7", "\"share\": -1")) == 1);
    CHECK(faults(samples::replaced(help_text(), "\"path\": \"sensor.thread\"",
                                   "\"path\": \"sensor.colour\"")) == 1);
    CHECK(faults("{\"format\":\"isochore.nameplate/1\",\"suggestions\":[1],\"completions\":{}}") == 2);
}
