#include "session/resolve.h"
#include "session/slip.h"
#include "session_support.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;

namespace {

std::string question(std::string const& typed, Dimension dimension, double expected_si, double air_pa = 95e3)
{
    auto const amount = parse_amount(typed, dimension, "test");
    REQUIRE(amount);
    return slip_question(*amount, expected_si, air_pa);
}

bool says(std::string const& text, char const* words)
{
    INFO(text);
    return text.find(words) != std::string::npos;
}

struct Log {
    Bench bench;
    std::unique_ptr<Outage> outage = bench.begin();
    model::Step const& purge = *outage->checklists().step("purge.flow");
    model::Step const& hold = *outage->checklists().step("purge.hold");

    [[nodiscard]] Evaluation typed(model::Step const& step, std::size_t column, std::string const& text)
    {
        return evaluate_cell(outage->context(), step, column, text);
    }
    /// A reading as the journal has it; the rules of order are tested elsewhere.
    void read(char const* step, std::vector<std::string> values)
    {
        REQUIRE(outage->note({{"type", "reading"}, {"step", step}, {"t_s", 0.0}, {"values", values}}));
    }
};

} // namespace

TEST_CASE("each slip of unit or reference is asked about in words of its own", "[slip]")
{
    auto const pressure = [&](char const* typed) { return question(typed, Dimension::pressure, 5e5); };
    CHECK(says(pressure("50 bar g"), "Ten times"));
    CHECK(says(pressure("0.5 bar g"), "A tenth"));
    CHECK(says(pressure("72.5 bar g"), "14.5 times"));
    CHECK(says(pressure("5 psi g"), "14.5th"));
    CHECK(says(pressure("34.5 bar g"), "6.9 times"));
    CHECK(says(pressure("72.5 kPa g"), "6.9th"));
    CHECK(says(pressure("5.95 bar g"), "absolute reading entered as gauge"));
    CHECK(says(pressure("4.05 bar abs"), "gauge reading entered as absolute"));
    CHECK(pressure("5.1 bar g").empty());
    auto const warmth = [&](char const* typed) { return question(typed, Dimension::temperature, 293.15); };
    CHECK(says(warmth("68 degC"), "read in degF and entered as degC"));
    CHECK(says(warmth("20 degF"), "read in degC and entered as degF"));
    CHECK(warmth("22 degC").empty());
}

TEST_CASE("a slip that the keypad blocks is named with the reading it would have been", "[slip]")
{
    // Factors: NIST SP 811 appendix B.8: 87 psi = 599.84 kPa; 1 atm = 101.325 kPa; degF = 1.8 degC + 32.
    Bench bench;
    auto const outage = bench.begin();
    auto const typed = [&](char const* step, char const* text) {
        auto const e = evaluate_value(outage->context(), *outage->checklists().step(step), text);
        return e.ok() ? e.question : e.problem;
    };
    CHECK(says(typed("fill.pressure", "87.0 bar g"), "not possible"));
    CHECK(says(typed("fill.pressure", "87.0 bar g"),
               "Looks like “psi” typed as “bar”: 87 psi g would be 6 bar g."));
    CHECK(says(typed("fill.pressure", "87.0 bar g"), "Or is the point misplaced: 8.7 bar g?"));
    CHECK(says(typed("fill.pressure", "599 psi g"),
               "Looks like “kPa” typed as “psi”: 599 kPa g would be 86.9 psi g."));
    CHECK(says(typed("fill.pressure", "0.5 bar g"),
               "Looks like “MPa” typed as “bar”: 0.5 MPa g would be 5 bar g."));
    CHECK_FALSE(says(typed("fill.pressure", "0.5 bar g"), "misplaced")); // it comes to the same
    CHECK(says(typed("fill.pressure", "1.9 bar abs"),
               "Looks like a gauge reading typed as absolute: 1.9 bar g"));
    CHECK(says(typed("fill.pressure", "9.8 bar g"),
               "Looks like an absolute reading typed as gauge: 9.8 bar abs"));
    CHECK(says(typed("fill.temperature", "130 degC"), "Looks like a misplaced point: 13 °C would be usual."));
    CHECK(says(typed("fill.temperature", "68 degC"), "Looks like “°F” typed as “°C”: 68 °F would be 20 °C."));
    CHECK(says(typed("fill.temperature", "293 degC"), "Looks like “K” typed as “°C”"));
    CHECK(says(typed("fill.cylinder_before", "1040 kg"), "misplaced point: 104 kg"));
    CHECK(typed("fill.temperature", "15 degC").empty());
}

TEST_CASE("a checklist can hand on how sure a result is", "[resolve]")
{
    Json const answer{{"results",
                       {{"density", {{"value", 37.5}, {"unit", "kg/m3"}, {"u", 0.125}}},
                        {"pressure", {{"value", 5e5}, {"unit", "Pa"}, {"u", 250.0}}},
                        {"ratio", {{"value", 2.0}, {"unit", "1"}}}}}};
    CHECK(figure_text(answer, "density.u") == "0.125 kg/m3");
    CHECK(figure_text(answer, "pressure.u") == "250 Pa"); // an interval, neither absolute nor gauge
    CHECK(figure_text(answer, "ratio.u") == std::nullopt);
    CHECK(figure_text(answer, "mass.u") == std::nullopt);
    CHECK(figure_text(answer, "density") == "37.5 kg/m3");
}

TEST_CASE("the keypad of a log blocks what cannot be, as that of a measurement does", "[log]")
{
    Log log;
    auto const above = log.typed(log.purge, 0, "100.4 % vol");
    CHECK(says(above.problem, "not possible here"));
    CHECK(says(above.problem, "100 % vol"));
    CHECK(log.typed(log.purge, 0, "100 % vol").ok());
    CHECK_FALSE(log.typed(log.purge, 0, "-0.1 % vol").ok());
    CHECK_FALSE(log.typed(log.hold, 0, "-2 bar g").ok());
    CHECK_FALSE(log.typed(log.hold, 0, "60 bar g").ok());
    CHECK_FALSE(log.typed(log.hold, 1, "140 degC").ok());
    CHECK_FALSE(log.typed(log.hold, 1, "").ok());
    CHECK(says(log.typed(log.hold, 1, "68 degC").question, "unusual"));
    CHECK_FALSE(evaluate_reading(log.outage->context(), log.purge, {"100.4 % vol"}).ok());
}

TEST_CASE("a reading of a log is held against the one before it for slips", "[log]")
{
    Log log;
    log.read("purge.hold", {"5.2 bar g", "20 degC"});
    CHECK(log.typed(log.hold, 0, "5.19 bar g").question.empty());
    CHECK(says(log.typed(log.hold, 0, "0.519 bar g").question, "A tenth"));
    CHECK(says(log.typed(log.hold, 0, "6.2 bar g").question, "absolute reading"));
    CHECK(says(log.typed(log.hold, 1, "68 degC").question, "degF"));
    CHECK(says(log.typed(log.hold, 1, "68 degC").question, "The last reading was 20 degC."));
    auto const both = evaluate_reading(log.outage->context(), log.hold, {"0.519 bar g", "20 degC"});
    CHECK(both.ok());
    CHECK(says(both.question, "A tenth"));
    log.read("purge.flow", {"80 % vol"});
    CHECK(says(log.typed(log.purge, 0, "8.1 % vol").question, "A tenth"));
    // Blocked, and still named: what was read before tells.
    CHECK(says(log.typed(log.purge, 0, "810 % vol").problem, "Ten times"));
    CHECK(says(log.typed(log.hold, 0, "75.4 bar g").problem, "read in psi and entered as bar"));
}
