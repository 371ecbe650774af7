#include "gas/isochore_line.h"
#include "gas/saturation.h"
#include "gas/state.h"
#include "tables.h"

using namespace isochore;
using namespace isochore::gas;

TEST_CASE("the saturation line of SF6 agrees with CoolProp 8 to 1e-7", "[gas][published]")
{
    for (auto const& row : published("sf6_saturation.csv")) {
        CAPTURE(row.text("temperature_k"));
        auto const s = saturation(Species::sf6, row.number("temperature_k"));
        REQUIRE(s);
        CHECK(relative(s->pressure_pa, row.number("pressure_pa")) < 1e-7);
        CHECK(relative(s->liquid_kg_m3, row.number("liquid_kg_m3")) < 1e-7);
        CHECK(relative(s->vapour_kg_m3, row.number("vapour_kg_m3")) < 1e-7);
    }
}

TEST_CASE("densities liquefy where CoolProp 8 says, and thin gas is said to freeze instead",
          "[gas][published]")
{
    for (auto const& row : published("sf6_liquefaction.csv")) {
        CAPTURE(row.text("density_kg_m3"));
        auto const s = saturation_at_density(Species::sf6, row.number("density_kg_m3"));
        if (row.empty("temperature_k")) {
            REQUIRE_FALSE(s);
            CHECK(s.error().code == Error::Code::out_of_range);
            CHECK(s.error().detail.find("freeze") != std::string::npos);
        } else {
            REQUIRE(s);
            CHECK(relative(s->temperature_k, row.number("temperature_k")) < 1e-9);
            CHECK(relative(s->pressure_pa, row.number("pressure_pa")) < 1e-7);
        }
    }
}

TEST_CASE("along the whole saturation line both phases share pressure and Gibbs energy", "[gas][property]")
{
    auto const species = GENERATE(Species::sf6, Species::n2, Species::co2, Species::cf4);
    Equation const& eq = equation(species);
    auto const& data = eq.data();
    double const first = std::fmax(data.least_temperature_k, 120.0); // CF4's start values begin at 120 K
    // The CF4 equation has its own critical point at 227.39 K, a little below the measured 227.51 K.
    double const last = data.critical_temperature_k * (species == Species::cf4 ? 0.9990 : 0.9999);
    double before = 0.0;
    for (int i = 0; i <= 200; ++i) {
        double const t = first + (last - first) * i / 200.0;
        CAPTURE(data.name, t);
        auto const s = saturation(species, t);
        REQUIRE(s);
        REQUIRE(s->pressure_pa > before);
        REQUIRE(s->liquid_kg_m3 > s->vapour_kg_m3);
        before = s->pressure_pa;
        auto const iso = eq.isotherm(t);
        double const scale = data.reducing_density_mol_m3 * data.molar_mass_kg_mol;
        double const l = s->liquid_kg_m3 / scale, v = s->vapour_kg_m3 / scale;
        auto const a = eq.evaluate(iso, l), b = eq.evaluate(iso, v);
        CHECK(relative(iso.pressure_scale_pa * v * (1.0 + b.d), s->pressure_pa) < 1e-11);
        // The liquid pressure is the small difference of large terms: l/v times less sure.
        CHECK(std::fabs(l * (1.0 + a.d) - v * (1.0 + b.d)) < 1e-13 * l + 1e-11 * v);
        CHECK(a.a + a.d + std::log(l) == Approx(b.a + b.d + std::log(v)).epsilon(0).margin(1e-11));
        CHECK(relative(rough_saturation_pressure_pa(species, t), s->pressure_pa) < 1e-3);
    }
}

TEST_CASE("the dew point of a density is where the dew line has that density", "[gas][property]")
{
    for (double rho = 19.6; rho < 700.0; rho *= 1.07) {
        CAPTURE(rho);
        auto const s = saturation_at_density(Species::sf6, rho);
        REQUIRE(s);
        CHECK(relative(s->vapour_kg_m3, rho) < 1e-9);
    }
    auto const liquid = saturation_at_density(Species::sf6, 1400.0);
    REQUIRE(liquid);
    CHECK(relative(liquid->liquid_kg_m3, 1400.0) < 1e-9);
    CHECK_FALSE(saturation_at_density(Species::sf6, 1900.0));
    CHECK_FALSE(saturation_at_density(Species::sf6, -1.0));
    CHECK_FALSE(saturation_at_density(Species::sf6, NAN));
    CHECK_FALSE(saturation_at_density(Species::air, 40.0));
}

TEST_CASE("saturation is refused outside the line", "[gas]")
{
    for (double t : {223.5, 318.7232, 400.0, -5.0, static_cast<double>(NAN)}) {
        auto const s = saturation(Species::sf6, t);
        REQUIRE_FALSE(s);
        CHECK(s.error().code == Error::Code::out_of_range);
    }
    CHECK_FALSE(saturation(Species::air, 100.0));
}

TEST_CASE("an isochore never crosses the dew line unseen", "[gas][property]")
{
    for (double rho = 21.0; rho < 190.0; rho += 7.0) {
        auto const dew = saturation_at_density(Species::sf6, rho);
        REQUIRE(dew);
        for (double t = 223.6; t < 318.0; t += 1.7) {
            auto const p = pressure_pa(Species::sf6, t, rho);
            CAPTURE(rho, t, dew->temperature_k);
            CHECK(p.has_value() == (t >= dew->temperature_k));
        }
    }
}

TEST_CASE("a drawn isochore begins on the dew line and rises", "[gas]")
{
    auto const line = isochore_line(Species::sf6, 40.0, 233.15, 333.15);
    REQUIRE(line.size() == 33);
    CHECK(line.front().temperature_k == Approx(242.86187842869373).epsilon(1e-9)); // sf6_liquefaction.csv
    CHECK(line.back().temperature_k == Approx(333.15));
    CHECK(line.back().pressure_pa == Approx(715282.0104992357).epsilon(1e-9)); // sf6_isochores.csv
    for (std::size_t i = 1; i < line.size(); ++i)
        CHECK(line[i].pressure_pa > line[i - 1].pressure_pa);
    CHECK(isochore_line(Species::sf6, 6.16, 233.15, 333.15).front().temperature_k == Approx(233.15));
    CHECK(isochore_line(Species::sf6, 40.0, 225.0, 240.0).empty());
    CHECK(isochore_line(Species::sf6, 40.0, 300.0, 290.0).empty());
    auto const dew = dew_line(Species::sf6, 200.0, 400.0);
    REQUIRE(dew.size() == 65);
    CHECK(dew.front().temperature_k == Approx(223.555));
    CHECK(dew_line(Species::air, 60.0, 130.0).empty());
}
