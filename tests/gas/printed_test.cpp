// The papers' own printed values, each to the last digit printed: Guder & Wagner 2009 tables 28 and 29, Span
// et al. 2000, Span & Wagner 1996 tables 34 and 35, Lemmon et al. 2000 table A2.
#include "gas/saturation.h"
#include "gas/state.h"
#include "tables.h"

using namespace isochore;
using namespace isochore::gas;

namespace {

/// Density at T and p on the equation, on the branch of the start value: the printed states include liquids,
/// which the program itself refuses.
double density_near(Species species, double t, double p, double start_kg_m3)
{
    Equation const& eq = equation(species);
    auto const iso = eq.isotherm(t);
    double const scale = eq.data().reducing_density_mol_m3 * eq.data().molar_mass_kg_mol;
    double delta = start_kg_m3 / scale;
    for (int i = 0; i < 100; ++i) {
        auto const at = eq.evaluate(iso, delta);
        double const step = (p / iso.pressure_scale_pa - delta * (1.0 + at.d)) / (1.0 + 2.0 * at.d + at.dd);
        delta += step;
        if (std::fabs(step) < 1e-15 * delta)
            break;
    }
    return delta * scale;
}

Species species_of(std::string const& name)
{
    for (Species s : all_species())
        if (species_name(s) == name)
            return s;
    FAIL("unknown fluid " << name);
    return Species::sf6;
}

} // namespace

TEST_CASE("every value printed in the papers is reproduced to its last digit", "[gas][published]")
{
    std::map<std::string, double> density_of_state; // from the printed density row of the same state
    int checked = 0;
    for (auto const& row : published("printed_values.csv")) {
        Species const species = species_of(row.text("fluid"));
        double const m = molar_mass_kg_mol(species);
        double const t = row.number("temperature_k"), printed = row.number("printed");
        std::string const quantity = row.text("quantity"), phase = row.text("phase");
        std::string const state =
            row.text("fluid") + row.text("temperature_k") + row.text("pressure_pa") + phase;
        CAPTURE(row.text("source"), t, row.text("pressure_pa"), phase, quantity);

        double rho = 0.0, p = row.number("pressure_pa");
        if (phase == "state") {
            if (quantity == "rho" || quantity == "rhoM")
                density_of_state[state] =
                    density_near(species, t, p, quantity == "rho" ? printed : printed * 1e3 * m);
            REQUIRE(density_of_state.count(state) == 1);
            rho = density_of_state[state];
        } else {
            auto const s = saturation(species, t);
            REQUIRE(s);
            p = s->pressure_pa;
            rho = phase == "saturated liquid" ? s->liquid_kg_m3 : s->vapour_kg_m3;
        }
        auto const heat = caloric(species, t, rho);
        double const value = quantity == "P"      ? p / 1e6
                             : quantity == "rho"  ? rho
                             : quantity == "rhoM" ? rho / m / 1e3
                             : quantity == "cv"   ? heat.cv_j_kg_k / 1e3
                             : quantity == "cp"   ? heat.cp_j_kg_k / 1e3
                             : quantity == "cvM"  ? heat.cv_j_kg_k * m
                             : quantity == "cpM"  ? heat.cp_j_kg_k * m
                                                  : heat.sound_speed_m_s;
        // The two speeds of sound printed for air at 2000 K differ from the printed equation in the last
        // digit by up to 1.8 units, in every implementation looked at; all other values are exact.
        double const units = row.text("fluid") == "Air" && t == 2000.0 && quantity == "w" ? 1.8 : 0.501;
        CHECK(std::fabs(value - printed) <= units * std::pow(10.0, -row.number("decimals")));
        ++checked;
    }
    CHECK(checked == 259);
}
