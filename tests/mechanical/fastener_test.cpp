#include "mechanical/fastener.h"
#include <catch2/catch.hpp>
#include <random>

using namespace isochore;
using namespace isochore::mechanical;

namespace {
constexpr double lbf = 4.4482216152605, inch = 0.0254, ksi = 6.894757293168e6;
ScrewSize const quarter{"1/4-20", 0.25 * inch, inch / 20.0, true};
ScrewGrade const sae2{"SAE 2", 55 * ksi, 57 * ksi, 74 * ksi};
ScrewGrade const sae5{"SAE 5", 85 * ksi, 92 * ksi, 120 * ksi};
ScrewGrade const sae8{"SAE 8", 120 * ksi, 130 * ksi, 150 * ksi};
ScrewGrade const g88{"8.8", 580e6, 640e6, 800e6};
ScrewSize metric(double d, double p)
{
    return {"M", d * 1e-3, p * 1e-3, false};
}
} // namespace

TEST_CASE("stress areas agree with the tables of ASME B1.1 and ISO 898-1", "[mechanical][published]")
{
    // 1/4-20: 0.0318 in2; M6 20.1, M8 36.6, M10 58.0 mm2 (from memory, sure).
    CHECK(stress_area_m2(quarter) / (inch * inch) == Approx(0.0318).epsilon(0).margin(0.00005));
    CHECK(stress_area_m2(metric(6, 1.0)) * 1e6 == Approx(20.1).epsilon(0).margin(0.05));
    CHECK(stress_area_m2(metric(8, 1.25)) * 1e6 == Approx(36.6).epsilon(0).margin(0.05));
    CHECK(stress_area_m2(metric(10, 1.5)) * 1e6 == Approx(58.0).epsilon(0).margin(0.05));
}

TEST_CASE("proof loads and torques agree with the worked table", "[mechanical][published]")
{
    // Proof stresses SAE J429 and ISO 898-1 (from memory, sure); loads and torques worked by hand from them.
    struct Row {
        ScrewSize size;
        ScrewGrade grade;
        double proof_n, torque_nm;
    };
    for (Row const& row : {Row{quarter, sae2, 1750 * lbf, 7.42}, Row{quarter, sae5, 2705 * lbf, 11.46},
                           Row{quarter, sae8, 3819 * lbf, 16.18}, Row{metric(5, 0.8), g88, 8226, 6.17},
                           Row{metric(6, 1.0), g88, 11672, 10.5}, Row{metric(8, 1.25), g88, 21233, 25.5},
                           Row{metric(10, 1.5), g88, 33634, 50.5}}) {
        double const proof = proof_load_n(row.size, row.grade);
        CHECK(proof == Approx(row.proof_n).epsilon(5e-4));
        CHECK(tightening_torque_nm(0.20, row.size.diameter_m, 0.75 * proof) ==
              Approx(row.torque_nm).epsilon(1e-3));
    }
    // 1/4-20 grade 5 oiled, K 0.15: 76.1 lbf in.
    CHECK(tightening_torque_nm(0.15, quarter.diameter_m, 0.75 * proof_load_n(quarter, sae5)) / (lbf * inch) ==
          Approx(76.1).epsilon(1e-3));
}

TEST_CASE("single shear agrees with the worked figures", "[mechanical]")
{
    CHECK(shear_limit_n(quarter, sae5) / lbf == Approx(1688).epsilon(1e-3));
    // The hand figure rounds the area to 20.1 mm2.
    CHECK(shear_limit_n(metric(6, 1.0), g88) == Approx(7423).epsilon(2e-3));
}

TEST_CASE("5 kg at 15 g on four fasteners is 184 N each", "[mechanical]")
{
    auto const loads = shock_loads({4, 5.0, 15 * 9.80665, 0.0, 0.2}, "t");
    REQUIRE(loads);
    CHECK(loads->shear_n == Approx(184.0).epsilon(0).margin(0.5));
    CHECK(loads->tension_n() == loads->shear_n); // no standoff, no tilt
}

TEST_CASE("the tilt is in balance with the fasteners that hold it", "[mechanical][property]")
{
    std::mt19937 random(3);
    std::uniform_real_distribution<> part(0.1, 1.0);
    for (int i = 0; i < 200; ++i) {
        int const count = 2 + i % 7;
        ShockCase const c{count, 10 * part(random), 300 * part(random), part(random), part(random)};
        auto const loads = shock_loads(c, "t");
        REQUIRE(loads);
        double const held = loads->tilt_n * (count / 2) * c.spacing_m;
        CHECK(held == Approx(c.mass_kg * c.acceleration_m_s2 * c.standoff_m).epsilon(1e-12));
        CHECK(loads->shear_n * count == Approx(c.mass_kg * c.acceleration_m_s2).epsilon(1e-12));
    }
}

TEST_CASE("one fastener, no spacing, a negative standoff and no mass are refused by name", "[mechanical]")
{
    auto const where = [](ShockCase c) {
        auto const loads = shock_loads(c, "inputs");
        return loads ? std::string() : loads.error().where;
    };
    CHECK(where({1, 5, 100, 0.1, 0.2}) == "inputs.count");
    CHECK(where({2, 0, 100, 0.1, 0.2}) == "inputs.mass");
    CHECK(where({2, 5, 0, 0.1, 0.2}) == "inputs.shock");
    CHECK(where({2, 5, 100, -0.1, 0.2}) == "inputs.standoff");
    CHECK(where({2, 5, 100, 0.1, 0.0}) == "inputs.spacing");
}

TEST_CASE("a sheet pull-out grows with thickness, diameter and strength", "[mechanical]")
{
    // Formula of AISI S100 (from memory): 0.85 t d Fu.
    CHECK(sheet_pull_out_n(1.5e-3, 4.8e-3, 300e6) == Approx(0.85 * 1.5 * 4.8 * 300).epsilon(1e-12));
}
