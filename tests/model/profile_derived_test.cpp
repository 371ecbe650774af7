#include "model/profile_derived.h"
#include <catch2/catch.hpp>
#include <cmath>

using namespace isochore;

namespace {

model::Profile sample()
{
    model::Profile p;
    p.id = "sample";
    p.values = {{"gas.species", {"SF6", "", false}},
                {"gas.nominal", {"0.62 MPa abs", "", false}},
                {"gas.warn", {"4.6 bar g", "", false}},
                {"gas.lockout", {"60 psi g", "", false}},
                {"gas.nameplate_mass", {"12 kg", "", false}},
                {"gas.leak_limit", {"0.5 %/yr", "", false}},
                {"rating.frequency", {"60 Hz", "", false}},
                {"rating.interrupting_cycles", {"3 cycles", "", false}},
                {"timing.open_spread", {"0.25 cycles", "", false}},
                {"sensor.quantity", {"density", "", false}},
                {"sensor.range_low", {"0 kg/m3", "", false}},
                {"sensor.range_high", {"60 kg/m3", "", false}},
                {"ct.full_ratio", {"2000:5", "", false}}};
    return p;
}

} // namespace

TEST_CASE("what follows from a profile is worked out from its own values", "[model][profile]")
{
    auto const d = model::derive(sample());
    REQUIRE(d.problems.empty());
    double const nominal = d.si("gas.nominal_density"), warn = d.si("gas.warn_density");
    // Ideal-gas bounds, by hand: p M / (R T) = 37.15 kg/m3 at 0.62 MPa and 20 degC; SF6 is denser than that.
    CHECK(nominal > 37.2);
    CHECK(nominal < 37.2 * 1.12);
    CHECK(warn < nominal);
    CHECK(d.si("gas.lockout_density") < warn);
    CHECK(d.si("gas.volume") == Approx(12.0 / nominal).epsilon(1e-12));
    CHECK(d.si("gas.warn_absolute") == Approx(460e3 + 101325.0).epsilon(1e-12));
    // 60 psi = 413 685.4 Pa, NIST SP 811 appendix B.8.
    CHECK(d.si("gas.lockout_gauge") == Approx(413685.4).margin(0.1));
    CHECK(d.si("sensor.nominal_current") == Approx(4e-3 + 16e-3 * nominal / 60.0).epsilon(1e-12));
    CHECK(d.si("ct.full_ratio_to_one") == 400.0);
    // IEEE C37.04: rated interrupting time in cycles; 3 cycles of 60 Hz are 50 ms.
    CHECK(d.find("timing.interrupting_time")->shown() == Approx(50.0).epsilon(1e-12));
    CHECK(d.find("timing.open_spread_time")->shown() == Approx(4.1667).margin(1e-4));
    CHECK(d.find("gas.leak_mass")->shown() == Approx(60.0).epsilon(1e-12)); // 0.5 %/yr of 12 kg = 60 g/yr
    CHECK(d.find("gas.time_to_warn")->shown() == Approx((nominal - warn) / nominal / 0.005).epsilon(1e-12));
}

TEST_CASE("a sensor that reads pressure is scaled in pressure", "[model][profile]")
{
    auto p = sample();
    p.values["sensor.quantity"].value = "pressure at 20 degC";
    double const by_pressure = model::derive(p).si("sensor.nominal_current");
    double const by_density = model::derive(sample()).si("sensor.nominal_current");
    // The isotherm bends: at two thirds of the range the pressure has come further than the density.
    CHECK(by_pressure > by_density + 0.2e-3);
    CHECK(by_pressure < by_density + 1e-3);
}

TEST_CASE("a filling that cannot be gas is a problem with its place, not a number", "[model][profile]")
{
    auto p = sample();
    p.values["gas.nominal"].value = "2.6 MPa abs"; // saturation at 20 degC is near 2.1 MPa
    auto const d = model::derive(p);
    REQUIRE(d.problems.size() == 1);
    CHECK(d.problems[0].where == "gas.nominal");
    CHECK(d.problems[0].code == Error::Code::liquid);
    CHECK(std::isnan(d.si("gas.nominal_density")));
    CHECK(d.find("gas.volume") == nullptr);
    CHECK(d.find("gas.warn_density") != nullptr);
}

TEST_CASE("an empty profile derives nothing and complains about nothing", "[model][profile]")
{
    auto const d = model::derive(model::Profile{});
    CHECK(d.values.empty());
    CHECK(d.problems.empty());
}
