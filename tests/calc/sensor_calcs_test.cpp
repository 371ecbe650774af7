#include "ct_run.h"

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
