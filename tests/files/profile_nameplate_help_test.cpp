#include "files/nameplate_help.h"
#include "files/profile_file.h"
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

TEST_CASE(
    "supply ranges for tripping are those of IEEE C37.06 and IEC 62271-1, in the help and in every profile",
    "[files][profile][published]")
{
    // IEEE C37.06: 48 V 28 to 56 V, 125 V 70 to 140 V, 250 V 140 to 280 V (from memory; sure of 125 V and 250
    // V). IEC 62271-1: shunt opening releases on dc work from 70 % to 110 % of the rated voltage (from
    // memory, sure).
    struct Range {
        char const *nominal, *low, *high;
    };
    for (Range const& r :
         {Range{"48 V", "28 V", "56 V"}, Range{"125 V", "70 V", "140 V"}, Range{"250 V", "140 V", "280 V"},
          Range{"110 V", "77 V", "121 V"}, Range{"220 V", "154 V", "242 V"}}) {
        CAPTURE(r.nominal);
        model::Profile p;
        p.values["control.dc_nominal"] = {r.nominal, "nameplate", true};
        auto const done = files::complete_profile(p, help());
        CHECK(done.text("control.dc_min") == r.low);
        CHECK(done.text("control.dc_max") == r.high);
        CHECK_FALSE(done.find("control.dc_min")->source.empty());
        CHECK_FALSE(done.find("control.dc_min")->confirmed);
        for (auto const& path : samples::profile_paths()) {
            files::FileReport report;
            auto const shipped =
                files::read_profile(samples::text_of(path), path.filename().string(), report);
            REQUIRE(report.ok());
            if (shipped.text("control.dc_nominal") != r.nominal)
                continue;
            CAPTURE(shipped.id);
            CHECK(shipped.text("control.dc_min") == r.low);
            CHECK(shipped.text("control.dc_max") == r.high);
        }
    }
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
