#include "files/profile_answers.h"
#include "files/profile_samples.h"
#include <catch2/catch.hpp>

using namespace isochore;

TEST_CASE("the answers for scripts carry every figure with its unit and source", "[files][profile]")
{
    files::FileReport report;
    auto const a = files::read_profile(samples::profile_text("kd-41"), "a", report);
    auto b = a;
    b.values["gas.warn"].value = "0.55 MPa abs";
    auto const derived = files::to_json(model::derive(a));
    REQUIRE(derived["values"].size() == model::derive(a).values.size());
    bool found = false;
    for (auto const& v : derived["values"])
        if (v["path"] == "timing.interrupting_time") {
            found = true;
            CHECK(v["si"].get<double>() == Approx(0.05).epsilon(1e-12)); // 3 cycles of 60 Hz
            CHECK(v["si_unit"] == "s");
            CHECK(v["shown"] == "50.000 ms");
        }
    CHECK(found);
    CHECK(derived["problems"].empty());
    auto const differences = files::to_json(model::compare(a, b));
    REQUIRE(differences.is_array());
    CHECK(differences[0]["kind"] == "physical");
    CHECK(differences[0]["share"].get<double>() < 0.0);
    b.values["gas.warn"].value = "0.7 MPa abs";
    auto const errors = files::to_json(files::check_profile(b, "b").errors);
    REQUIRE(errors.size() >= 1);
    CHECK(errors[0]["code"] == "out_of_range");
    CHECK(errors[0]["where"] == "b: gas.warn");
    auto const rows =
        files::to_json(files::read_nameplates("id,title\nx-1,One\nX,Two\n", "n", "a", "2025-01-01"));
    REQUIRE(rows["rows"].size() == 2);
    CHECK(rows["rows"][0]["taken"] == true);
    CHECK(rows["rows"][1]["refused"].size() == 1);
}
