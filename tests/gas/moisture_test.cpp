#include "gas/moisture.h"
#include "tables.h"

using namespace isochore;
using namespace isochore::gas;

TEST_CASE("ice vapour pressure meets the IAPWS check values", "[gas][published]")
{
    // IAPWS R14-08(2011), section 6: p_subl(230 K) = 8.94735 Pa.
    CHECK(ice_vapour_pressure_pa(230.0).value() == Approx(8.94735).epsilon(0).margin(5e-6));
    CHECK(ice_vapour_pressure_pa(273.16).value() == Approx(611.657).epsilon(1e-8));
}

// The program's water formula is region 4 itself, so the release's own table holds to its last digit.
TEST_CASE("water vapour pressure meets table 35 of IAPWS-IF97, region 4", "[gas][published]")
{
    // IAPWS R7-97(2012), table 35: ps at 300 K, 500 K and 600 K.
    CHECK(water_vapour_pressure_pa(300.0).value() == Approx(3536.58941).epsilon(0).margin(5e-6));
    CHECK(water_vapour_pressure_pa(500.0).value() == Approx(2.63889776e6).epsilon(0).margin(5e-3));
    CHECK(water_vapour_pressure_pa(600.0).value() == Approx(12.3443146e6).epsilon(0).margin(5e-2));
}

TEST_CASE("condensation temperature meets table 36 of IAPWS-IF97, region 4 backwards", "[gas][published]")
{
    // IAPWS R7-97(2012), table 36: Ts at 0.1 MPa, 1 MPa and 10 MPa.
    CHECK(condensation_temperature_k(1e5).value() == Approx(372.755919).epsilon(0).margin(5e-7));
    CHECK(condensation_temperature_k(1e6).value() == Approx(453.035632).epsilon(0).margin(5e-7));
    CHECK(condensation_temperature_k(1e7).value() == Approx(584.149488).epsilon(0).margin(5e-7));
}

TEST_CASE("a frost or dew point comes back from its own vapour pressure", "[gas][property]")
{
    for (double t = 150.0; t < 600.0; t += 3.7) {
        CAPTURE(t);
        auto const e = vapour_pressure_at_point_pa(t);
        REQUIRE(e);
        CHECK(condensation_temperature_k(*e).value() == Approx(t).epsilon(2e-9));
    }
}

TEST_CASE("vapour pressure rises all the way through the triple point", "[gas][property]")
{
    double before = 0.0;
    for (double t = 270.0; t < 276.0; t += 0.01) {
        double const e = vapour_pressure_at_point_pa(t).value();
        REQUIRE(e > before);
        before = e;
    }
}

TEST_CASE("temperatures and pressures without a condensate are refused", "[gas]")
{
    CHECK_FALSE(ice_vapour_pressure_pa(273.2));
    CHECK_FALSE(ice_vapour_pressure_pa(49.0));
    CHECK_FALSE(water_vapour_pressure_pa(273.0));
    CHECK_FALSE(water_vapour_pressure_pa(648.0));
    CHECK_FALSE(condensation_temperature_k(0.0));
    CHECK_FALSE(condensation_temperature_k(3e7));
    CHECK_FALSE(condensation_temperature_k(NAN));
}

TEST_CASE("Magnus values over ice, common knowledge of the trade, are near the IAPWS ones", "[gas]")
{
    // WMO-No. 8, Magnus form 611.2 exp(22.46 t/(272.62 + t)), formula from memory: good to a few parts in
    // 1000.
    for (double c : {-60.0, -40.0, -20.0, -5.0})
        CHECK(ice_vapour_pressure_pa(c + 273.15).value() ==
              Approx(611.2 * std::exp(22.46 * c / (272.62 + c))).epsilon(0.003));
}
