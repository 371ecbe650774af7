#include "gas_support.h"

using namespace isochore;
using calc::Verdict;

TEST_CASE("gas.density gives density, compressibility, pressure at 20 degC and dew point", "[calc][gas]")
{
    auto const a =
        answered("gas.density", R"({"gas":"SF6","temperature":"-10 degC","pressure":"0.5 MPa abs"})");
    CHECK(value_of(a, "density") > 0.0);
    CHECK(value_of(a, "pressure_at_20C") > 5e5);
    CHECK(value_of(a, "liquefaction_temperature") < 263.15);
    CHECK(a.facts.at("phase") == "gas");
    CHECK(figure_of(a, "density").u.value() > 0.0);
    auto const back = answered("gas.pressure", R"({"gas":"SF6","temperature":"20 degC","density":")" +
                                                   Json(value_of(a, "density")).dump() + R"( kg/m3"})");
    CHECK(value_of(back, "pressure") == Approx(value_of(a, "pressure_at_20C")).epsilon(1e-12));
}

TEST_CASE("a density carries the uncertainty of the instruments that were named", "[calc][gas]")
{
    auto const a = answered("gas.density",
                            R"({"gas":"SF6","temperature":"20 degC","pressure":"5 bar g","baro":"101.3 kPa",
        "uncertainties":{"pressure":{"class":"1.6 %","span":"1.0 MPa"},"temperature":{"limit":"1 K"},"baro":"0.3 kPa"}})");
    CHECK(a.budget.front().input == "pressure");
    CHECK(a.budget.size() == 4);
    auto const rho = figure_of(a, "density");
    CHECK(rho.u.value() / rho.value ==
          Approx(0.0155).epsilon(0.15)); // about 1.55 %, the worked gauge of the trade
    CHECK(*rho.low < rho.value);
    CHECK(answered("gas.density", R"({"gas":"SF6","temperature":"20 degC","pressure":"5 bar abs"})")
              .budget.size() == 1);
    CHECK(refused("gas.density", R"({"gas":"SF6","temperature":"20 degC","pressure":"5 bar abs",
        "uncertainties":{"volume":"1 %"}})")
              .where == "inputs.uncertainties.volume");
}

TEST_CASE("a gauge pressure needs a barometer, and says which was used", "[calc][gas]")
{
    // ISO 2533: 2000 m, 794.95 hPa.
    std::string const head = R"({"gas":"SF6","temperature":"20 degC","pressure":"5 bar g")";
    auto const sea = answered("gas.density", head + "}");
    CHECK(says(sea.notes.at(0), "101.325"));
    auto const measured = answered("gas.density", head + R"(,"baro":"794.95 hPa"})");
    auto const hill = answered("gas.density", head + R"(,"altitude":"2000 m"})");
    CHECK(value_of(hill, "density") == Approx(value_of(measured, "density")).epsilon(1e-5));
    CHECK(value_of(sea, "density") > value_of(measured, "density"));
}

TEST_CASE("gas calculations refuse what has no answer, naming the input", "[calc][gas]")
{
    CHECK(refused("gas.density", R"({"gas":"SF6","temperature":"-40 degC","pressure":"0.5 MPa abs"})").code ==
          Error::Code::liquid);
    CHECK(
        refused("gas.density", R"({"gas":"SF6","temperature":"-51 degC","pressure":"0.1 MPa abs"})").where ==
        "inputs.temperature");
    CHECK(refused("gas.density", R"({"gas":"SF6","temperature":"20 degC","pressure":"0.5 MPa"})").where ==
          "inputs.pressure");
    CHECK(refused("gas.density", R"({"gas":"SF6","temperature":20,"pressure":"0.5 MPa abs"})").where ==
          "inputs.temperature");
    CHECK(refused("gas.density", R"({"gas":"XY","temperature":"20 degC","pressure":"0.5 MPa abs"})").where ==
          "inputs.gas");
    CHECK(refused("gas.density", R"({"gas":"SF6/N2","temperature":"20 degC","pressure":"0.5 MPa abs"})")
              .where == "inputs.gas");
    CHECK(refused("gas.density", R"({"gas":"SF6","temperature":"20 degC"})").code ==
          Error::Code::missing_input);
    CHECK(refused("gas.density",
                  R"({"gas":"SF6","temperature":"20 degC","pressure":"1 bar abs","presure":"1 bar abs"})")
              .where == "inputs.presure");
    CHECK(refused("gas.pressure", R"({"gas":"SF6","temperature":"-40 degC","density":"30 kg/m3"})").code ==
          Error::Code::two_phase);
    CHECK(refused("gas.pressure", R"({"gas":"SF6","temperature":"20 degC","density":"1400 kg/m3"})").code ==
          Error::Code::liquid);
    CHECK(refused("gas.pressure", R"({"gas":"SF6","temperature":"20 degC","density":"-3 kg/m3"})").code ==
          Error::Code::out_of_range);
    CHECK(refused("gas.saturation", R"({"gas":"SF6"})").code == Error::Code::missing_input);
    CHECK_FALSE(run_text("gas.saturation", R"({"gas":"SF6","temperature":"0 degC","density":"40 kg/m3"})"));
    CHECK(refused("gas.saturation", R"({"gas":"Air","temperature":"100 K"})").code ==
          Error::Code::out_of_range);
}

TEST_CASE("moisture is turned between pressures as worked values of the trade have it", "[calc][gas]")
{
    // -36 degC at 100 kPa is about 200 ppmv (Magnus, from memory), and at 600 kPa -5 degC is about 670 ppmv.
    auto const a = answered("gas.moisture", R"({"gas_pressure":"700 kPa abs","frost_point":"-36 degC",
                                               "measured_at":"100 kPa abs"})");
    CHECK(value_of(a, "ppmv") == Approx(200.4).epsilon(0.002));
    CHECK(value_of(a, "gas_pressure") == Approx(700e3));
    CHECK(value_of(a, "cell_pressure") == Approx(100e3));
    CHECK(value_of(a, "point_read") == Approx(273.15 - 36.0));
    CHECK(value_of(a, "frost_point") == Approx(273.15 - 16.8).epsilon(0).margin(0.1));
    auto const b = answered("gas.moisture", R"({"gas_pressure":"600 kPa abs","frost_point":"-5 degC"})");
    CHECK(value_of(b, "ppmv") == Approx(669.6).epsilon(0.002));
    CHECK(value_of(b, "frost_point_atmospheric") == Approx(273.15 - 24.3).epsilon(0).margin(0.1));
    auto const c =
        answered("gas.moisture", R"({"gas_pressure":"600 kPa abs","ppmv":"669.5683701939782 ppmv"})");
    CHECK(value_of(c, "frost_point") == Approx(268.15).epsilon(1e-9));
    CHECK(c.facts.at("condenses_as") == "ice");
}

TEST_CASE("moisture is judged against the profile's limit with its uncertainty", "[calc][gas]")
{
    auto const verdict = [](std::string const& point) {
        auto const a = answered(
            "gas.moisture", R"({"gas_pressure":"600 kPa abs","frost_point":")" + point +
                                R"(","limit":"-5 degC","uncertainties":{"frost_point":{"limit":"2 K"}}})");
        return check_of(a, "dew_point").verdict;
    };
    CHECK(verdict("-20 degC") == Verdict::pass);
    CHECK(verdict("-6 degC") == Verdict::undecided);
    CHECK(verdict("-4 degC") == Verdict::undecided);
    CHECK(verdict("-1 degC") == Verdict::fail);
}

TEST_CASE("moisture refuses two readings, none, frost above freezing and more water than gas", "[calc][gas]")
{
    CHECK(refused("gas.moisture", R"({"gas_pressure":"600 kPa abs"})").code == Error::Code::missing_input);
    CHECK(refused("gas.moisture", R"({"gas_pressure":"600 kPa abs","ppmv":"3 ppmv","dew_point":"-5 degC"})")
              .code == Error::Code::invalid_input);
    CHECK(refused("gas.moisture", R"({"gas_pressure":"600 kPa abs","frost_point":"5 degC"})").where ==
          "inputs.frost_point");
    CHECK(refused("gas.moisture",
                  R"({"gas_pressure":"600 kPa abs","dew_point":"90 degC","measured_at":"1 kPa abs"})")
              .code == Error::Code::out_of_range);
    CHECK(refused("gas.moisture", R"({"gas_pressure":"0 kPa abs","ppmv":"100 ppmv"})").code ==
          Error::Code::out_of_range);
    CHECK(refused("gas.moisture", R"({"gas_pressure":"600 kPa abs","frost_point":"-250 degC"})").code ==
          Error::Code::out_of_range);
}
