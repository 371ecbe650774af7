#include "ct_run.h"
#include <cmath>

using namespace isochore;
using namespace isochore::calc;

TEST_CASE("sensor.loop turns current into value and value into current", "[calc][sensor]")
{
    auto const a =
        answered("sensor.loop", R"({"quantity":"pressure","range_low":"0 bar abs","range_high":"10 bar abs",
        "current":"12 mA","warn":"5.5 bar abs","lockout":"5 bar abs"})");
    CHECK(value_of(a, "value") == Approx(5e5));
    CHECK(value_of(a, "warn_current") == Approx(12.8e-3));
    CHECK(value_of(a, "lockout_current") == Approx(12e-3));
    auto const b =
        answered("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3","range_high":"60 kg/m3",
        "value":"30 kg/m3"})");
    CHECK(value_of(b, "current") == Approx(12e-3));
    CHECK(b.expected.front().value == Approx(12e-3));
}

TEST_CASE("a gauge range and an absolute reference meet through the barometer", "[calc][sensor]")
{
    auto const a =
        answered("sensor.loop", R"({"quantity":"pressure","range_low":"0 bar g","range_high":"10 bar g",
        "current":"12 mA","reference_value":"6 bar abs","baro":"100 kPa","u_reference":"1 kPa","u_sensor":"1 kPa"})");
    CHECK(a.facts["reference"] == "gauge");
    CHECK(value_of(a, "value") == Approx(5e5));
    CHECK(value_of(a, "difference") == Approx(0.0).margin(1e-6));
    CHECK(check_verdict(a, "agrees_with_reference") == Verdict::pass);
}

TEST_CASE("gauge taken for absolute shows as a disagreement with the reference", "[calc][sensor]")
{
    auto const a =
        answered("sensor.loop", R"({"quantity":"pressure","range_low":"0 bar abs","range_high":"10 bar abs",
        "current":"12 mA","reference_value":"5 bar g","u_reference":"1 kPa","u_sensor":"5 kPa"})");
    CHECK(check_verdict(a, "agrees_with_reference") == Verdict::fail);
    CHECK(value_of(a, "difference") == Approx(-101325.0));
}

TEST_CASE("an open or shorted loop gives no value", "[calc][sensor]")
{
    for (auto const& [current, state] : {std::pair{"2 mA", "open loop"}, std::pair{"22 mA", "short"}}) {
        auto const a = answered("sensor.loop", std::string(R"({"quantity":"density","range_low":"0 kg/m3",
            "range_high":"60 kg/m3","current":")") +
                                                   current + R"("})");
        CHECK(a.facts["state"] == state);
        CHECK(a.find("value") == nullptr);
        CHECK(a.verdict() == Verdict::fail);
    }
}

TEST_CASE("an alarm point outside the range fails, a lockout above warn is refused", "[calc][sensor]")
{
    auto const a =
        answered("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3","range_high":"40 kg/m3",
        "current":"12 mA","warn":"45 kg/m3"})");
    CHECK(check_verdict(a, "warn_in_range") == Verdict::fail);
    CHECK(refused("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3","range_high":"60 kg/m3",
        "current":"12 mA","warn":"30 kg/m3","lockout":"35 kg/m3"})")
              .where == "inputs.lockout");
}

TEST_CASE("sensor.loop refuses a swapped range and both or neither of current and value", "[calc][sensor]")
{
    CHECK(refused("sensor.loop", R"({"quantity":"density","range_low":"60 kg/m3","range_high":"0 kg/m3",
        "current":"12 mA"})")
              .where == "inputs.range_low");
    CHECK(refused("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3","range_high":"60 kg/m3"})")
              .where == "inputs.current");
    CHECK(refused("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3","range_high":"60 kg/m3",
        "current":"12 mA","value":"3 kg/m3"})")
              .where == "inputs.current");
    CHECK(refused("sensor.loop", R"({"quantity":"pressure","range_low":"0 bar","range_high":"10 bar abs",
        "current":"12 mA"})")
              .where == "inputs.range_low");
}

TEST_CASE("a loop of temperature-compensated pressure takes densities through the gas", "[calc][sensor]")
{
    // 45 kg/m3 of SF6 at 20 C is 0.6862 MPa, 60 kg/m3 is 0.8868 MPa: Guder and Wagner 2009, as gas.density
    // gives them back.
    auto const pressure_of = [](char const* density) {
        auto const a = answered("gas.pressure", std::string(R"({"gas":"SF6","temperature":"20 degC","density":")") +
                                                    density + R"("})");
        return value_of(a, "pressure");
    };
    auto const a = answered("sensor.loop", R"({"quantity":"pressure at 20 degC","range_low":"0 kg/m3",
        "range_high":"60 kg/m3","gas":"SF6","value":"45 kg/m3","nominal":"0.6 MPa abs"})");
    double const full = pressure_of("60 kg/m3");
    CHECK(value_of(a, "at_full_value") == Approx(full).epsilon(1e-12));
    CHECK(value_of(a, "current") == Approx(4e-3 + 16e-3 * pressure_of("45 kg/m3") / full).epsilon(1e-12));
    CHECK(value_of(a, "nominal_current") == Approx(4e-3 + 16e-3 * 0.6e6 / full).epsilon(1e-12));
}

TEST_CASE("a plain pressure loop needs the gas temperature for a density, a density loop takes alarm pressures",
          "[calc][sensor]")
{
    CHECK(refused("sensor.loop", R"({"quantity":"pressure","range_low":"0 bar abs","range_high":"10 bar abs",
        "gas":"SF6","value":"40 kg/m3"})")
              .where == "inputs.gas_temperature");
    auto const cold = answered("sensor.loop", R"({"quantity":"pressure","range_low":"0 bar abs",
        "range_high":"10 bar abs","gas":"SF6","gas_temperature":"0 degC","value":"40 kg/m3"})");
    auto const warm = answered("sensor.loop", R"({"quantity":"pressure","range_low":"0 bar abs",
        "range_high":"10 bar abs","gas":"SF6","gas_temperature":"40 degC","value":"40 kg/m3"})");
    CHECK(value_of(cold, "current") < value_of(warm, "current")); // one density, less pressure in the cold
    auto const density = answered("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3",
        "range_high":"60 kg/m3","gas":"SF6","current":"14 mA","nominal":"0.6 MPa abs"})");
    auto const nominal = answered("gas.density", R"({"gas":"SF6","temperature":"20 degC","pressure":"0.6 MPa abs"})");
    CHECK(value_of(density, "nominal_current") ==
          Approx(4e-3 + 16e-3 * value_of(nominal, "density") / 60.0).epsilon(1e-12));
}

TEST_CASE("accuracies of sensor and milliammeter give the expected current its interval", "[calc][sensor]")
{
    auto const a = answered("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3",
        "range_high":"60 kg/m3","value":"30 kg/m3","sensor_accuracy":"0.3 %","reference_accuracy":"0.4 %"})");
    REQUIRE(a.find("current")->u);
    CHECK(*a.find("current")->u == Approx(16e-3 * 0.005 / std::sqrt(3.0))); // 3-4-5, rectangular limits: JCGM 100
    auto const off = answered("sensor.loop", R"({"quantity":"density","range_low":"0 kg/m3",
        "range_high":"60 kg/m3","current":"12 mA","reference_value":"32 kg/m3","sensor_accuracy":"0.3 %",
        "reference_accuracy":"0.4 %"})");
    CHECK(check_verdict(off, "agrees_with_reference") == Verdict::fail);
}
