#include "electrical/supervision.h"
#include <catch2/catch.hpp>
#include <random>

using namespace isochore;
using namespace isochore::electrical;

namespace {
SupervisedCircuit circuit()
{
    return {140.0, 20e3, 20.0, 33e3, InputPosition::across_coil, {}};
}
} // namespace

TEST_CASE("a healthy coil shows the input almost nothing and an open one the divider", "[electrical]")
{
    auto const s = supervised_states(circuit(), "t");
    REQUIRE(s);
    double const both = 20.0 * 33e3 / (20.0 + 33e3);
    CHECK((*s)[0].supervision_a == Approx(140.0 / (20e3 + both)).epsilon(1e-14));
    CHECK((*s)[0].input_v == Approx(140.0 * both / (20e3 + both)).epsilon(1e-14));
    CHECK((*s)[1].supervision_a == Approx(140.0 / 53e3).epsilon(1e-14));
    CHECK((*s)[1].input_v == Approx(140.0 * 33.0 / 53.0).epsilon(1e-14));
}

TEST_CASE("a 5 mA supervision over a 20 ohm coil is about 0.1 V on the input", "[electrical]")
{
    // Worked figure: 5 mA x 20 ohm = 0.1 V.
    auto c = circuit();
    c.supervision_ohm = c.dc_v / 5e-3;
    CHECK((*supervised_states(c, "t"))[0].input_v == Approx(0.1).epsilon(2e-3));
}

TEST_CASE("with the breaker open an input across the coil is dead and one ahead of 52a is not",
          "[electrical]")
{
    auto c = circuit();
    auto const behind = supervised_states(c, "t");
    CHECK((*behind)[2].input_v == 0.0);
    CHECK((*behind)[2].supervision_a == 0.0);
    c.position = InputPosition::across_contact_and_coil;
    auto const ahead = supervised_states(c, "t");
    // Supervision and input in series: exactly what an open coil gives.
    CHECK((*ahead)[2].input_v == Approx((*ahead)[1].input_v).epsilon(1e-14));
    CHECK((*ahead)[2].supervision_a == Approx((*ahead)[1].supervision_a).epsilon(1e-14));
}

TEST_CASE("a bypass around 52a lets the supervision see the coil of an open breaker", "[electrical]")
{
    auto c = circuit();
    c.bypass_ohm = 5e3;
    auto const s = supervised_states(c, "t");
    CHECK((*s)[2].supervision_a == Approx(140.0 / (25e3 + 20.0 * 33e3 / 33020.0)).epsilon(1e-12));
    CHECK((*s)[3].supervision_a == Approx(140.0 / (25e3 + 33e3)).epsilon(1e-12));
}

TEST_CASE("voltages of the circuit add up to the supply in every state", "[electrical][property]")
{
    std::mt19937 random(11);
    std::uniform_real_distribution<> exponent(0.0, 6.0);
    for (int i = 0; i < 500; ++i) {
        SupervisedCircuit c;
        c.dc_v = 24.0 + 250.0 * std::uniform_real_distribution<>(0.0, 1.0)(random);
        c.supervision_ohm = std::pow(10.0, exponent(random));
        c.coil_ohm = std::pow(10.0, exponent(random));
        c.input_ohm = std::pow(10.0, exponent(random));
        c.position = i % 2 ? InputPosition::across_coil : InputPosition::across_contact_and_coil;
        auto const states = supervised_states(c, "t");
        REQUIRE(states);
        SupervisedState const& closed = (*states)[0];
        CHECK(closed.supervision_a * c.supervision_ohm + closed.input_v == Approx(c.dc_v).epsilon(1e-12));
        // The open coil never lets more through than the healthy one.
        CHECK((*states)[1].supervision_a <= closed.supervision_a * (1.0 + 1e-12));
        CHECK((*states)[1].input_v >= closed.input_v * (1.0 - 1e-12));
    }
}

TEST_CASE("a circuit with a value of zero is refused by the name of that value", "[electrical]")
{
    auto c = circuit();
    c.coil_ohm = 0.0;
    auto const s = supervised_states(c, "inputs");
    REQUIRE_FALSE(s);
    CHECK(s.error().detail.find("coil resistance") != std::string::npos);
    c = circuit();
    c.dc_v = -140.0;
    CHECK_FALSE(supervised_states(c, "t"));
    c = circuit();
    c.bypass_ohm = 0.0;
    CHECK_FALSE(supervised_states(c, "t"));
}
