#include "gas_support.h"
#include "uncertainty/random.h"

using namespace isochore;
using calc::Verdict;

namespace {

std::string log(int readings, double noise = 0.0003, double plateau = 0.991, double drift_per_reading = 0.0)
{
    uncertainty::Random random(4);
    Json rows = Json::array();
    for (int i = 0; i < readings; ++i) {
        double const x =
            plateau - 0.381 * std::exp(-120.0 * i / 180.0) + noise * random.normal() + drift_per_reading * i;
        rows.push_back({Json(2.0 * i).dump() + " min", Json(std::round(x * 1e4) / 100.0).dump() + " %"});
    }
    return rows.dump();
}

std::string purge(std::string const& rows,
                  std::string const& more = R"(,"resolution":"0.1 %","limit":"98.5 %")")
{
    return R"({"series":)" + rows + more + "}";
}

} // namespace

TEST_CASE("a purge on its plateau above the limit passes", "[calc][purge]")
{
    auto const a = answered("purge.plateau", purge(log(12)));
    CHECK(value_of(a, "plateau") == Approx(99.1).epsilon(0).margin(0.1));
    CHECK(value_of(a, "time_constant") == Approx(180.0).epsilon(0.05));
    CHECK(a.facts.at("on_plateau") == true);
    CHECK(value_of(a, "time_to_plateau") == 0.0);
    CHECK(a.verdict() == Verdict::pass);
}

TEST_CASE("a plateau foreseen is not one seen: the time to go on is said, and it suffices", "[calc][purge]")
{
    auto const a = answered("purge.plateau", purge(log(5)));
    CHECK(a.facts.at("on_plateau") == false);
    CHECK(check_of(a, "plateau").verdict == Verdict::undecided);
    CHECK(check_of(a, "purity").verdict == Verdict::undecided);
    double const wait = value_of(a, "time_to_plateau");
    CHECK(wait > 120.0);
    CHECK(wait < 3600.0);
    int const more = static_cast<int>(std::ceil(wait / 120.0));
    CHECK(answered("purge.plateau", purge(log(5 + more))).facts.at("on_plateau") == true);
}

TEST_CASE("the last reading alone does not make a plateau", "[calc][purge]")
{
    // Rising steadily, then one reading equal to the one before.
    auto const a = answered("purge.plateau",
                            purge(R"([["0 min","60 %"],["2 min","70 %"],["4 min","78 %"],["6 min","84.4 %"],
        ["8 min","89.5 %"],["10 min","89.5 %"]])"));
    CHECK(a.facts.at("on_plateau") == false);
}

TEST_CASE("a ceiling below the limit fails and is not to be waited out", "[calc][purge]")
{
    auto const a = answered("purge.plateau", purge(log(14, 0.0003, 0.965)));
    CHECK(check_of(a, "purity").verdict == Verdict::fail);
    CHECK(says(check_of(a, "purity").remedy, "dead leg"));
}

TEST_CASE("an analyser too coarse for the limit leaves it undecided and says how good it must be",
          "[calc][purge]")
{
    auto const a = answered("purge.plateau", purge(log(14), R"(,"resolution":"0.1 %","limit":"98.9 %",
        "uncertainties":{"purity":{"limit":"0.5 %"}})"));
    CHECK(check_of(a, "purity").verdict == Verdict::undecided);
    CHECK(says(check_of(a, "purity").remedy, "analyser known to within"));
    auto const simple =
        answered("purge.plateau", purge(log(14), R"(,"resolution":"0.1 %","limit":"98.9 %","rule":"simple",
        "uncertainties":{"purity":{"limit":"0.5 %"}})"));
    CHECK(check_of(simple, "purity").verdict == Verdict::pass);
    CHECK(check_of(simple, "purity").rule == "simple");
}

TEST_CASE("purity drifting down at the end is flagged", "[calc][purge]")
{
    Json rows = Json::parse(log(10));
    for (int i = 0; i < 6; ++i)
        rows.push_back({Json(20.0 + 2.0 * i).dump() + " min", Json(99.1 - 0.4 * (i + 1)).dump() + " %"});
    auto const a = answered("purge.plateau", purge(rows.dump()));
    CHECK(check_of(a, "drift_down").verdict == Verdict::undecided);
    CHECK(a.verdict() != Verdict::pass);
}

TEST_CASE("constant purity is a plateau with its own uncertainty", "[calc][purge]")
{
    auto const a = answered(
        "purge.plateau", purge(R"([["0 min","99 %"],["2 min","99 %"],["4 min","99 %"],["6 min","99 %"]])"));
    CHECK(value_of(a, "plateau") == Approx(99.0));
    CHECK(figure_of(a, "plateau").u.value() > 0.0);
    CHECK(a.find("time_constant") == nullptr);
    CHECK(a.facts.at("on_plateau") == true);
}

TEST_CASE("purge logs that cannot be are refused at the reading", "[calc][purge]")
{
    auto const above = refused(
        "purge.plateau", purge(R"([["0 min","60 %"],["2 min","90 %"],["4 min","101 %"],["6 min","99 %"]])"));
    CHECK(above.where == "inputs.series[2]");
    CHECK(says(above.detail, "above 100 %"));
    CHECK(refused("purge.plateau", purge(R"([["0 min","60 %"],["2 min","90 %"],["4 min","99 %"]])")).code ==
          Error::Code::no_solution);
    CHECK(says(refused("purge.plateau",
                       purge(R"([["0 min","60 %"],["2 min","90 %"],["1 min","95 %"],["6 min","99 %"]])"))
                   .detail,
               "goes back"));
    CHECK(refused("purge.plateau", purge(log(8), R"(,"limit":"150 %")")).where == "inputs.limit");
    CHECK(refused("purge.plateau", purge(log(8), R"(,"resolution":"-1 %")")).where == "inputs.resolution");
}

TEST_CASE("the curve of a purge runs from the first reading with its band about it", "[calc][purge]")
{
    auto const a = answered("purge.plateau", purge(log(6)));
    auto const &curve = a.facts.at("curve"), &low = a.facts.at("band_low"), &high = a.facts.at("band_high");
    REQUIRE(curve.size() == 41);
    CHECK(curve[0][0] == 0.0);
    CHECK(curve.back()[0].get<double>() > 600.0); // on to where the plateau is expected
    for (std::size_t i = 0; i < curve.size(); ++i) {
        CHECK(low[i][1].get<double>() <= curve[i][1].get<double>());
        CHECK(high[i][1].get<double>() >= curve[i][1].get<double>());
    }
}

TEST_CASE("residual air is the pressure ratio, cycle by cycle", "[calc][purge]")
{
    // Arithmetic: 100 Pa/700 kPa = 143 ul/l; 2 kPa/700 kPa = 2857 ul/l.
    auto const cycles = [](char const* vent, char const* fill, int n, std::string const& more = "") {
        return answered("purge.dilution", R"({"volume":"300 l","pressures":{"vent":")" + std::string(vent) +
                                              R"(","fill":")" + fill + R"("},"cycles":)" + std::to_string(n) +
                                              more + "}");
    };
    CHECK(value_of(cycles("100 Pa abs", "700 kPa abs", 1), "residual_air") * 1e6 ==
          Approx(142.857).epsilon(1e-5));
    CHECK(value_of(cycles("2 kPa abs", "700 kPa abs", 1), "residual_air") * 1e6 ==
          Approx(2857.14).epsilon(1e-5));
    auto const a = cycles("1 bar abs", "3 bar abs", 3, R"(,"limit":"1 %")");
    CHECK(value_of(a, "residual_air") == Approx(1.0 / 27.0));
    CHECK(check_of(a, "residual_air").verdict == Verdict::fail);
    CHECK(value_of(a, "cycles_needed") == 5.0);
    CHECK(value_of(a, "gas_used") == Approx(3.0 * value_of(cycles("1 bar abs", "3 bar abs", 1), "gas_used")));
    CHECK(check_of(cycles("1 bar abs", "3 bar abs", 5, R"(,"limit":"1 %")"), "residual_air").verdict ==
          Verdict::pass);
    // A purity of 97 % leaves 3 % for air: three cycles from 1 to 3 bar leave 1/27 = 3.7 %, four 1.2 %.
    auto const pure = cycles("1 bar abs", "3 bar abs", 3, R"(,"purity_limit":"97 % vol")");
    CHECK(check_of(pure, "residual_air").verdict == Verdict::fail);
    CHECK(says(check_of(pure, "residual_air").text, "3.7 % of air left"));
    CHECK(says(check_of(pure, "residual_air").text, "97 %"));
    CHECK(check_of(pure, "residual_air").remedy == "4 cycles are needed");
    CHECK(check_of(cycles("1 bar abs", "3 bar abs", 4, R"(,"purity_limit":"97 % vol")"), "residual_air")
              .verdict == Verdict::pass);
    CHECK(refused("purge.dilution", R"({"volume":"1 l","pressures":{"vent":"1 bar abs","fill":"3 bar abs"},
                  "cycles":1,"purity_limit":"97 %","limit":"3 %"})")
              .where == "inputs.purity_limit");
    CHECK(refused("purge.dilution", R"({"volume":"1 l","pressures":{"vent":"1 bar abs","fill":"3 bar abs"},
                  "cycles":1,"purity_limit":"100 %"})")
              .where == "inputs.purity_limit");
    CHECK(refused("purge.dilution",
                  R"({"volume":"1 l","pressures":{"vent":"3 bar abs","fill":"1 bar abs"},"cycles":1})")
              .where == "inputs.pressures");
    CHECK(refused("purge.dilution",
                  R"({"volume":"1 l","pressures":{"vent":"3 bar abs","fill":"4 bar abs"},"cycles":0})")
              .where == "inputs.cycles");
    CHECK(refused("purge.dilution", R"({"volume":"1 l","cycles":1})").where == "inputs.pressures");
}
