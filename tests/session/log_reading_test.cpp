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
}
