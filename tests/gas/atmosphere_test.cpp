#include "gas/atmosphere.h"
#include "gas/emissions.h"
#include "gas/leak.h"
#include "tables.h"

using namespace isochore;
using namespace isochore::gas;

TEST_CASE("the standard atmosphere has the pressures of ISO 2533", "[gas][published]")
{
    // ISO 2533:1975, table 5 (pressures in hPa against geopotential altitude), as printed to 0.01 hPa.
    auto const [altitude, hpa] = GENERATE(table<double, double>({{0.0, 1013.25},
                                                                 {500.0, 954.61},
                                                                 {1000.0, 898.75},
                                                                 {1500.0, 845.56},
                                                                 {2000.0, 794.95},
                                                                 {3000.0, 701.09}}));
    CAPTURE(altitude);
    auto const p = standard_atmosphere_pressure(altitude);
    REQUIRE(p);
    CHECK(*p / 100.0 == Approx(hpa).epsilon(0).margin(0.0101));
}

TEST_CASE("altitudes off the troposphere are refused", "[gas]")
{
    CHECK_FALSE(standard_atmosphere_pressure(-501.0));
    CHECK_FALSE(standard_atmosphere_pressure(11001.0));
    CHECK_FALSE(standard_atmosphere_pressure(NAN));
    CHECK(standard_atmosphere_pressure(-500.0));
    CHECK(standard_atmosphere_pressure(11000.0));
}

TEST_CASE("leak rates turn between mass and throughput", "[gas][published]")
{
    // Computed from q M/(R T) at 20 degC with M = 146.0554 g/mol: 1 mbar l/s = 5.9923e-3 g/s = 189103 g/yr;
    // at 0 degC 202949 g/yr. The constants are those of the SI Brochure; no table of a standard was at hand.
    double const one = 0.1; // mbar l/s in Pa m3/s
    CHECK(mass_flow_kg_s(Species::sf6, one, 293.15) * 1e3 == Approx(5.9923e-3).epsilon(1e-5));
    CHECK(mass_flow_kg_s(Species::sf6, one, 293.15) * year_s * 1e3 ==
          Approx(189103.0).epsilon(0).margin(0.6));
    CHECK(mass_flow_kg_s(Species::sf6, one, 273.15) * year_s * 1e3 ==
          Approx(202949.0).epsilon(0).margin(0.6));
    CHECK(throughput_pa_m3_s(Species::sf6, 1e-3 / year_s, 293.15) / one == Approx(5.288e-6).epsilon(1e-4));
    for (double q : {1e-9, 1e-6, 1.0})
        CHECK(throughput_pa_m3_s(Species::sf6, mass_flow_kg_s(Species::sf6, q, 290.0), 290.0) ==
              Approx(q).epsilon(1e-14));
}

TEST_CASE("the bag example gives 1.109 g a year for one ppmv in a day", "[gas][published]")
{
    // 0.5 m3, 24 h, 1 ppmv rise, 101325 Pa: 5.864e-7 Pa m3/s (V dx p/dt, exact arithmetic).
    double const leak = accumulation_leak_kg_s(Species::sf6, 1e-6, 0.5, 101325.0, 293.15, 86400.0);
    CHECK(throughput_pa_m3_s(Species::sf6, leak, 293.15) == Approx(5.864e-7).epsilon(1e-4));
    CHECK(leak * year_s * 1e3 == Approx(1.109).epsilon(0).margin(5e-4));
    CHECK(30.0 * leak * year_s * 1e3 == Approx(33.27).epsilon(0).margin(5e-3));
}

TEST_CASE("the yearly balance adds up term by term", "[gas]")
{
    // Own invented cases; the equation is that of 40 CFR 98.303(a). Any unit of mass serves.
    YearOfGas const first{.stored_start = 100,
                          .stored_end = 80,
                          .bought_bulk = 115,
                          .sent_for_destruction = 20,
                          .new_nameplate = 60,
                          .retired_nameplate = 30};
    CHECK(user_emissions_kg(first).total == Approx(85.0));
    YearOfGas second{.stored_start = 500,
                     .stored_end = 610,
                     .bought_bulk = 230,
                     .bought_in_equipment = 45,
                     .sent_for_recycling = 60,
                     .new_nameplate = 45};
    auto const e = user_emissions_kg(second);
    CHECK(e.decrease_in_inventory == Approx(-110.0));
    CHECK(e.acquisitions == Approx(275.0));
    CHECK(e.disbursements == Approx(60.0));
    CHECK(e.net_nameplate_increase == Approx(45.0));
    CHECK(e.total == Approx(60.0));
    CHECK(user_emissions_kg({.stored_start = 100, .stored_end = 100}).total == 0.0);
    // What is sold inside a breaker leaves with it (98.303, disbursements), and the breaker's nameplate too.
    second.sold_in_equipment = 12;
    second.retired_nameplate = 12;
    CHECK(user_emissions_kg(second).disbursements == Approx(72.0));
    CHECK(user_emissions_kg(second).total == Approx(60.0));
}
