// Slips of hand and unit as a crew makes them: each has a message of its own, in every order of magnitude.
#include "gas_support.h"
#include <fmt/format.h>

using namespace isochore;

namespace {

/// A hold with one reading that is not like the others.
Error hold_with(std::string const& odd, std::string const& like = "\"1.2 bar g\",\"20 degC\"")
{
    return refused("leak.decay",
                   fmt::format(R"({{"gas":"SF6","volume":"50 ml","limit":"10 g/yr","baro":"95 kPa","series":[
                   ["0 s",{0}],["60 s",{1}],["120 s",{0}],["180 s",{0}]]}})",
                               like, odd));
}

isochore::calc::Answer topup(std::string const& pressure, std::string const& temperature = "20 degC")
{
    return answered("fill.topup",
                    fmt::format(R"({{"gas":"SF6","nominal_pressure":"6.2 bar abs","volume":"100 l",
                    "temperature":"{}","air_temperature":"20 degC","pressure":"{}"}})",
                                temperature, pressure));
}

std::string purge(std::string const& middle)
{
    return fmt::format(R"({{"resolution":"0.1 %","series":[["0 s","80 %"],["60 s","90 %"],["120 s","{}"],
        ["180 s","96 %"],["240 s","97 %"]]}})",
                       middle);
}

} // namespace

TEST_CASE("a slip of unit in one reading of a hold is named, though only the gauge shows it", "[leak][slip]")
{
    // 1.2 bar on the gauge. Factors between bar and psi, psi and kPa: NIST SP 811, appendix B.8.
    CHECK(hold_with("\"12 bar g\",\"20 degC\"").detail.find("ten times too large") != std::string::npos);
    CHECK(hold_with("\"0.12 bar g\",\"20 degC\"").detail.find("ten times too small") != std::string::npos);
    CHECK(hold_with("\"17.4 bar g\",\"20 degC\"").detail.find("14.5 times too large") != std::string::npos);
    CHECK(hold_with("\"1.2 psi g\",\"20 degC\"").detail.find("14.5 times too small") != std::string::npos);
    CHECK(hold_with("\"8.27 bar g\",\"20 degC\"").detail.find("6.9 times too large") != std::string::npos);
    CHECK(hold_with("\"0.174 bar g\",\"20 degC\"").detail.find("6.9 times too small") != std::string::npos);
    CHECK(hold_with("\"2.15 bar g\",\"20 degC\"").detail.find("absolute value entered as a gauge") !=
          std::string::npos);
    CHECK(hold_with("\"1.2 bar g\",\"68 degC\"").detail.find("degF reading entered as degC") !=
          std::string::npos);
    auto const named = hold_with("\"12 bar g\",\"20 degC\"");
    CHECK(named.where == "inputs.series[1]");
}

TEST_CASE("a reading that would be liquid is named as the slip it is, not as liquid", "[leak][slip]")
{
    auto const e = hold_with("\"52 bar g\",\"20 degC\"", "\"5.2 bar g\",\"20 degC\"");
    CHECK(e.detail.find("ten times too large") != std::string::npos);
    CHECK(e.code == Error::Code::invalid_input);
}

TEST_CASE("a hold in which pressure truly falls is no slip", "[leak][slip]")
{
    CHECK(run_text("leak.decay",
                   R"({"gas":"SF6","volume":"50 ml","limit":"10 g/yr","baro":"95 kPa","series":[
                   ["0 s","1.2 bar g","20 degC"],["60 s","0.9 bar g","20 degC"],["120 s","0.7 bar g","20 degC"],
                   ["180 s","0.5 bar g","20 degC"]]})"));
}

TEST_CASE("a gauge reading before a fill is held against the filling pressure for slips", "[fill][slip]")
{
    CHECK(check_of(topup("0.519 bar g"), "plausible").text.find("ten times too small") != std::string::npos);
    CHECK(check_of(topup("75.2 kPa g"), "plausible").text.find("6.9 times too small") != std::string::npos);
    CHECK(check_of(topup("6.2 bar g"), "plausible").text.find("absolute value") != std::string::npos);
    CHECK(check_of(topup("5.2 bar g", "68 degC"), "plausible").text.find("degF") != std::string::npos);
    CHECK_FALSE(has_check(topup("4.6 bar g"), "plausible"));
    auto const e = refused("fill.topup", R"({"gas":"SF6","nominal_pressure":"6.2 bar abs","volume":"100 l",
                                            "temperature":"20 degC","pressure":"75.2 bar g"})");
    CHECK(e.detail.find("14.5 times too large") != std::string::npos);
}

TEST_CASE("a purity with its point in the wrong place is refused, a low beginning is not", "[purge][slip]")
{
    auto const e = refused("purge.plateau", purge("9.5 %"));
    CHECK(e.where == "inputs.series[2]");
    CHECK(e.detail.find("misplaced point") != std::string::npos);
    CHECK(run_text("purge.plateau", purge("95 %")));
    CHECK(run_text("purge.plateau", R"({"resolution":"0.1 %","series":[["0 s","8 %"],["60 s","60 %"],
        ["120 s","85 %"],["180 s","94 %"],["240 s","97 %"]]})"));
}

TEST_CASE("a purity that never moves is asked about: the analyser may see no gas", "[purge]")
{
    auto const answer = answered("purge.plateau", R"({"resolution":"0.1 %","series":[["0 s","98 %"],
        ["60 s","98 %"],["120 s","98 %"],["180 s","98 %"]]})");
    CHECK(check_of(answer, "constant").verdict == calc::Verdict::undecided);
    CHECK(answer.verdict() == calc::Verdict::undecided);
    CHECK_FALSE(has_check(answered("purge.plateau", purge("95 %")), "constant"));
}

TEST_CASE("a log without readings says so", "[series]")
{
    CHECK(refused("purge.plateau", R"({"resolution":"0.1 %"})").detail.find("no readings are there") == 0);
    CHECK(refused("leak.decay", R"({"gas":"SF6","volume":"1 l"})").detail.find("no readings are there") == 0);
}
