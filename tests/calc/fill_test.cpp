#include "gas/state.h"
#include "gas_support.h"

using namespace isochore;
using calc::Verdict;

namespace {

// A 300 l breaker of 40 kg/m3 that has lost some gas, read on a cold morning.
std::string topup(std::string const& more = "", std::string const& pressure = "4.61 bar g")
{
    return R"({"gas":"SF6","nominal_density":"40 kg/m3","volume":"300 l","temperature":"11.5 degC","pressure":")" +
           pressure + "\",\"baro\":\"101.325 kPa\"" + more + "}";
}

std::string const instruments = R"(,"uncertainties":{"pressure":{"class":"0.6 %","span":"1.0 MPa"},
    "temperature":{"limit":"0.5 K"},"volume":"1 %","baro":"0.3 kPa"})";

} // namespace

TEST_CASE("the mass to add is volume times missing density, pipe included", "[calc][fill]")
{
    double const now = gas::density_kg_m3(gas::Species::sf6, 284.65, 461000.0 + 101325.0).value();
    auto const a =
        answered("fill.topup", topup(R"(,"tubes":[{"bore":"8 mm","length":"3 m"}],"added_volume":"0.2 l")"));
    double const pipe = 0.2e-3 + 3.14159265358979 / 4.0 * 0.008 * 0.008 * 3.0;
    CHECK(value_of(a, "mass_to_add") == Approx((0.3 + pipe) * (40.0 - now)).epsilon(1e-12));
    CHECK(value_of(a, "density_now") == Approx(now).epsilon(1e-12));
    CHECK(value_of(a, "target_pressure_gauge") ==
          Approx(gas::pressure_pa(gas::Species::sf6, 284.65, 40.0).value() - 101325.0).epsilon(1e-12));
    auto const empty = answered("fill.topup", topup(R"(,"added_volume":"1 l","pipe":"empty")"));
    CHECK(value_of(empty, "mass_to_add") == Approx(0.3 * (40.0 - now) + 1e-3 * 40.0).epsilon(1e-12));
}

TEST_CASE("a nominal pressure and a nameplate mass say the same as density and volume", "[calc][fill]")
{
    double const p20 = gas::pressure_pa(gas::Species::sf6, 293.15, 40.0).value();
    auto const a = answered("fill.topup", R"({"gas":"SF6","nominal_pressure":")" + Json(p20).dump() +
                                              R"( Pa abs","nameplate_mass":"12 kg","temperature":"11.5 degC",
                                              "pressure":"4.61 bar g","baro":"101.325 kPa"})");
    auto const b = answered("fill.topup", topup());
    CHECK(value_of(a, "mass_to_add") == Approx(value_of(b, "mass_to_add")).epsilon(1e-9));
    // A gauge filling value refers to 20 degC and 101.325 kPa, not to today's barometer.
    auto const c =
        answered("fill.target", R"({"gas":"SF6","nominal_pressure":"514.675 kPa g","temperature":"20 degC",
                                              "baro":"95 kPa"})");
    CHECK(value_of(c, "pressure") == Approx(616000.0).epsilon(1e-12));
    CHECK(value_of(c, "pressure_gauge") == Approx(521000.0).epsilon(1e-9));
    auto const d =
        answered("fill.target", R"({"gas":"SF6","nominal_pressure":"514.675 kPa g","temperature":"20 degC",
                                              "nominal_reference":"98 kPa abs"})");
    CHECK(value_of(d, "pressure") == Approx(612675.0).epsilon(1e-12));
}

TEST_CASE("budget, interval and expectation of a top-up hang together", "[calc][fill]")
{
    auto const a = answered("fill.topup", topup(instruments));
    auto const mass = figure_of(a, "mass_to_add");
    double variance = 0.0, shares = 0.0;
    for (auto const& line : a.budget) {
        variance += line.u * line.u;
        shares += line.share;
        CHECK_FALSE(line.source.empty());
    }
    CHECK(shares == Approx(1.0).epsilon(1e-9));
    CHECK(a.budget.front().input == "pressure");
    // Nearly linear: Monte Carlo and first order agree within the noise of 20,000 draws (0.5 % of u).
    CHECK(mass.u.value() == Approx(std::sqrt(variance)).epsilon(0.02));
    CHECK(*mass.low < mass.value);
    CHECK(*mass.high > mass.value);
    // By hand: gauge class 0.6 of 1 MPa gives u = 3.464 kPa; d rho/dp is about 0.073 kg/(m3 kPa).
    double const slope = (gas::density_kg_m3(gas::Species::sf6, 284.65, 563325.0).value() -
                          gas::density_kg_m3(gas::Species::sf6, 284.65, 561325.0).value()) /
                         2000.0;
    CHECK(a.budget.front().u == Approx(0.3 * slope * 6000.0 / std::sqrt(3.0)).epsilon(1e-4));
    REQUIRE(a.expected.size() == 2);
    CHECK(a.expected[0].name == "pressure_gauge");
    CHECK(a.expected[0].u.value() > 6000.0 / std::sqrt(3.0));
    CHECK(a.working.size() == 3);
}

TEST_CASE("the worked gauge of the trade cannot see half a percent", "[calc][fill]")
{
    // Class 1.6 of 1 MPa at 0.6 MPa and a 1 K limit in a breaker of about 10 kg: u about 1.6 % of the mass.
    auto const a =
        answered("fill.topup", R"({"gas":"SF6","nominal_pressure":"0.6 MPa abs","nameplate_mass":"10 kg",
        "temperature":"20 degC","pressure":"0.6 MPa abs","uncertainties":{"pressure":{"class":"1.6 %","span":"1.0 MPa"},
        "temperature":{"limit":"1 K"}}})");
    // The trade's worked figure of 1.55 % is for an ideal gas; the real gas is softer, so a little more.
    CHECK(figure_of(a, "density_now").u.value() / value_of(a, "density_now") == Approx(0.0155).epsilon(0.12));
    CHECK(check_of(a, "over_fill").verdict == Verdict::undecided);
}

TEST_CASE("over-fill, liquefaction, warn, lockout and cold cylinders are seen", "[calc][fill]")
{
    auto const over = answered("fill.topup", topup(instruments, "5.6 bar g"));
    CHECK(check_of(over, "over_fill").verdict == Verdict::fail);
    CHECK(says(check_of(over, "over_fill").remedy, "recover"));
    CHECK(value_of(over, "mass_to_add") < 0.0);

    auto const levels =
        answered("fill.topup", topup(instruments + R"(,"warn":"37.5 kg/m3","lockout":"0.50 MPa abs")"));
    CHECK(check_of(levels, "warn").verdict == Verdict::undecided);
    CHECK(says(check_of(levels, "warn").remedy, "would decide"));
    CHECK(check_of(levels, "lockout").verdict == Verdict::pass);

    auto const cold =
        answered("fill.topup", topup(R"(,"lowest_ambient":"-40 degC","max_pressure":"0.5 MPa abs")"));
    CHECK(check_of(cold, "liquefaction").verdict == Verdict::fail);
    CHECK(check_of(cold, "max_pressure").verdict == Verdict::fail);
    CHECK(
        check_of(answered("fill.topup", topup(R"(,"lowest_ambient":"-30 degC")")), "liquefaction").verdict ==
        Verdict::pass);

    auto const small = answered("fill.topup", topup(R"(,"cylinder_contents":"0.5 kg")"));
    CHECK(check_of(small, "cylinder_contents").verdict == Verdict::fail);
    CHECK(value_of(small, "cylinders") == 2.0);

    auto const frozen = answered("fill.topup", topup(R"(,"air_temperature":"-30 degC")"));
    CHECK(check_of(frozen, "cylinder_pressure").verdict == Verdict::fail);
}

TEST_CASE("undecided names the gauge that would decide, and that gauge does", "[calc][fill]")
{
    auto const with = [](std::string const& gauge) {
        return check_of(
            answered("fill.topup",
                     topup(R"(,"warn":"37.3 kg/m3","uncertainties":{"temperature":{"limit":"0.1 K"},
            "pressure":{"limit":")" +
                           gauge + "\"}}")),
            "warn");
    };
    auto const poor = with("8 kPa");
    REQUIRE(poor.verdict == Verdict::undecided);
    auto const from = poor.remedy.find("±") + std::string("±").size();
    double const needed = std::stod(poor.remedy.substr(from));
    CHECK(needed < 8.0);
    CHECK(with(std::to_string(0.97 * needed) + " kPa").verdict == Verdict::pass);
    CHECK(with(std::to_string(1.1 * needed) + " kPa").verdict == Verdict::undecided);
}

TEST_CASE("a breaker at its filling density passes within the tolerance of its profile", "[calc][fill]")
{
    std::string const target = "4.9356 bar g";
    CHECK(check_of(answered("fill.topup", topup(instruments, target)), "over_fill").verdict ==
          Verdict::undecided);
    CHECK(check_of(answered("fill.topup", topup(instruments + R"(,"fill_tolerance":"3 %")", target)),
                   "over_fill")
              .verdict == Verdict::pass);
    CHECK(refused("fill.topup", topup(R"(,"fill_tolerance":"80 %")")).where == "inputs.fill_tolerance");
}

TEST_CASE("gas and air that differ make the crew wait, for a time worked out", "[calc][fill]")
{
    auto const a = answered(
        "fill.topup", topup(instruments + R"(,"air_temperature":"17.5 degC","equalisation_time":"10 min")"));
    CHECK(check_of(a, "equalisation").verdict == Verdict::undecided);
    CHECK(says(check_of(a, "equalisation").text, "6.0 K colder"));
    CHECK(value_of(a, "equalisation_wait") > 60.0);
    CHECK(value_of(a, "target_pressure_gauge_equalised") > value_of(a, "target_pressure_gauge"));
    auto const even = answered("fill.topup", topup(instruments + R"(,"air_temperature":"12 degC")"));
    CHECK(check_of(even, "equalisation").verdict == Verdict::pass);
    auto const given =
        answered("fill.topup", topup(R"(,"air_temperature":"12 degC","temperature_agreement":"0.2 K")"));
    CHECK(check_of(given, "equalisation").verdict == Verdict::undecided);
}

TEST_CASE("slips of unit and reference each get their own words", "[calc][fill]")
{
    auto const slip = [](std::string const& pressure, std::string const& more = "") {
        auto const r = run_text("fill.topup", topup(more, pressure));
        return r ? check_of(*r, "plausible").text : r.error().detail;
    };
    CHECK(says(slip("5.9488 bar g"), "absolute value entered as a gauge"));
    CHECK(says(slip("4.935 bar abs"), "gauge reading entered as absolute"));
    CHECK(says(slip("59.5 bar abs"), "ten times too large"));
    CHECK(says(slip("59.5 kPa abs"), "ten times too small"));
    CHECK(says(slip("86.3 bar abs"), "psi reading entered as bar"));
    CHECK(says(slip("5.95 psi abs"), "bar reading entered as psi"));
    CHECK(says(slip("4.1 MPa abs"), "6.9 times"));
    CHECK(says(slip("86.3 kPa abs"), "6.9 times"));
    CHECK_FALSE(has_check(answered("fill.topup", topup()), "plausible"));
    auto const hot = answered("fill.topup", R"({"gas":"SF6","nominal_density":"40 kg/m3","volume":"300 l",
        "temperature":"68 degC","pressure":"6.1 bar abs","air_temperature":"20 degC"})");
    CHECK(says(check_of(hot, "plausible").text, "degF"));
}

TEST_CASE("a top-up refuses what is missing, doubled or impossible", "[calc][fill]")
{
    CHECK(refused("fill.topup",
                  R"({"gas":"SF6","volume":"300 l","temperature":"11 degC","pressure":"4 bar g"})")
              .code == Error::Code::missing_input);
    CHECK(refused("fill.topup", topup(R"(,"nominal_pressure":"6 bar abs")")).code ==
          Error::Code::invalid_input);
    CHECK(refused("fill.topup", topup(R"(,"nameplate_mass":"12 kg")")).code == Error::Code::invalid_input);
    CHECK(refused("fill.topup", topup(R"(,"tubes":[{"bore":"8 m","length":"3 m"}])")).where ==
          "inputs.tubes[0].bore");
    CHECK(refused("fill.topup", topup(R"(,"tubes":[{"bore":"8 mm"}])")).where == "inputs.tubes[0].length");
    CHECK(refused("fill.topup", topup(R"(,"uncertainties":{"pressure":{"class":"1.6 %"}})")).where ==
          "inputs.uncertainties.pressure.span");
    CHECK(refused("fill.topup", topup(R"(,"uncertainties":{"presure":"1 kPa"})")).where ==
          "inputs.uncertainties.presure");
    CHECK(refused("fill.topup", topup(R"(,"uncertainties":{"pressure":"-1 kPa"})")).code ==
          Error::Code::out_of_range);
    CHECK(refused("fill.topup", topup(R"(,"uncertainties":{"temperature":"1 kPa"})")).code ==
          Error::Code::invalid_input);
    CHECK(refused("fill.topup", topup(R"(,"rule":"kind")")).code == Error::Code::unknown);
    CHECK(refused("fill.topup", topup("", "40 bar g")).code == Error::Code::liquid);
    CHECK(refused("fill.topup", topup(R"(,"warn":"wet")")).where == "inputs.warn");
    CHECK(refused("fill.target", R"({"gas":"SF6","nominal_density":"40 kg/m3","temperature":"-35 degC"})")
              .code == Error::Code::two_phase);
}

TEST_CASE("twenty thousand draws of a top-up come with the answer, the same every time", "[calc][fill]")
{
    auto const a = answered("fill.topup", topup(instruments)), b = answered("fill.topup", topup(instruments));
    CHECK(figure_of(a, "mass_to_add").low == figure_of(b, "mass_to_add").low);
    CHECK(figure_of(a, "mass_to_add").u == figure_of(b, "mass_to_add").u);
}

namespace {

std::string account(std::string const& after_weight, std::string const& more = "")
{
    return R"({"gas":"SF6","cylinder_before":"60.00 kg","cylinder_after":")" + after_weight +
           R"(","volume":"300 l","before":{"temperature":"11.5 degC","pressure":"4.61 bar g"},
           "after":{"temperature":"11.5 degC","pressure":"4.9356 bar g"},"baro":"101.325 kPa","scale_limit":"0.02 kg",
           "uncertainties":{"pressure":"0.3 kPa","temperature":{"limit":"0.2 K"},"volume":"1 %"})" +
           more + "}";
}

} // namespace

TEST_CASE("the gas of a fill is accounted for", "[calc][fill]")
{
    auto const a =
        answered("fill.account", account("59.10 kg", R"(,"gwp":"23500","gwp_source":"40 CFR 98 table A-1",
                                                               "hose_volume":"0.5 l")"));
    CHECK(value_of(a, "mass_from_cylinder") == Approx(0.90));
    CHECK(value_of(a, "mass_into_breaker") == Approx(0.3 * (40.0 - 37.6128)).epsilon(1e-3));
    double const hoses = value_of(a, "mass_in_hoses");
    CHECK(hoses == Approx(0.0005 * 40.0).epsilon(1e-3));
    double const loss = 0.90 - value_of(a, "mass_into_breaker") - hoses;
    CHECK(value_of(a, "handling_loss") == Approx(loss).epsilon(1e-9));
    CHECK(value_of(a, "co2e") == Approx(loss * 23.5).epsilon(1e-9));
    CHECK(figure_of(a, "mass_from_cylinder").u.value() ==
          Approx(std::sqrt(2.0) * 0.02 / std::sqrt(3.0)).epsilon(1e-9));
    CHECK(says(check_of(a, "balance").text, "handling loss"));
}

TEST_CASE("a breaker that gains more than the cylinder lost means a lying instrument", "[calc][fill]")
{
    auto const a = answered("fill.account", account("59.80 kg"));
    CHECK(check_of(a, "balance").verdict == Verdict::fail);
    auto const near = answered("fill.account", account("59.28 kg"));
    CHECK(check_of(near, "balance").verdict == Verdict::pass);
    CHECK(says(check_of(near, "balance").text, "cannot be told from none"));
}

TEST_CASE("leakage since the last fill is kept apart from handling", "[calc][fill]")
{
    auto const a = answered("fill.account", account("59.10 kg", R"(,"last_density":"40 kg/m3")"));
    CHECK(value_of(a, "leakage_since_last_fill") == Approx(0.3 * (40.0 - 37.6128)).epsilon(1e-3));
    // The pipe fitted today held nothing before, and the density as found counts, not the one after the
    // purge.
    auto const found = answered("fill.account", account("59.10 kg", R"(,"last_density":"40 kg/m3",
        "density_as_found":"39 kg/m3","u_density_as_found":"0.1 kg/m3","added_volume":"2 l")"));
    CHECK(value_of(found, "leakage_since_last_fill") == Approx(0.298 * 1.0).epsilon(1e-9));
    // u: 0.298 m3 times 0.1 kg/m3, and 1 % of 0.3 m3 times 1 kg/m3 (JCGM 100, 5.1.2).
    CHECK(*figure_of(found, "leakage_since_last_fill").u == Approx(std::hypot(0.0298, 0.003)).epsilon(1e-6));
    CHECK(refused("fill.account", account("59.10 kg", R"(,"added_volume":"301 l")")).where ==
          "inputs.added_volume");
}

TEST_CASE("the account names all the gas: in the breaker now, in the hoses, lost and leaked", "[calc][fill]")
{
    auto const a =
        answered("fill.account", account("59.10 kg", R"(,"hose_volume":"0.5 l","last_density":"40 kg/m3")"));
    CHECK(value_of(a, "mass_in_breaker") == Approx(0.3 * value_of(a, "density_after")).epsilon(1e-12));
    CHECK(value_of(a, "density_after") == Approx(40.0).epsilon(1e-3));
    // Conservation of mass: what left the cylinder is in the breaker, in the hoses or lost.
    CHECK(
        value_of(a, "mass_from_cylinder") ==
        Approx(value_of(a, "mass_into_breaker") + value_of(a, "mass_in_hoses") + value_of(a, "handling_loss"))
            .epsilon(1e-12));
    CHECK(*figure_of(a, "mass_in_breaker").u >
          *figure_of(a, "density_after").u * 0.3); // the volume's 1 % too
}

TEST_CASE("an account refuses weights exchanged and states missing", "[calc][fill]")
{
    CHECK(refused("fill.account", account("61 kg")).where == "inputs.cylinder_after");
    CHECK(refused("fill.account", account("59 kg", R"(,"gwp":"0.5")")).where == "inputs.gwp");
    CHECK(refused("fill.account",
                  R"({"gas":"SF6","cylinder_before":"60 kg","cylinder_after":"59 kg","volume":"1 l"})")
              .where == "inputs.before");
    CHECK(refused("fill.account",
                  R"({"gas":"SF6","cylinder_before":"60 kg","cylinder_after":"59 kg","volume":"1 l",
        "before":{"temperature":"11 degC"},"after":{"temperature":"11 degC","pressure":"5 bar g"}})")
              .where == "inputs.before.pressure");
}
