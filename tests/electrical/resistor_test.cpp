#include "electrical/noise_resistor.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>

using namespace isochore;
using namespace isochore::electrical;

TEST_CASE("E12, E24 and E96 hold the values of IEC 60063", "[electrical][published]")
{
    // IEC 60063, lists from memory (sure).
    CHECK(std::vector<int>(decade(ESeries::e12).begin(), decade(ESeries::e12).end()) ==
          std::vector<int>{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82});
    CHECK(std::vector<int>(decade(ESeries::e24).begin(), decade(ESeries::e24).end()) ==
          std::vector<int>{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
                           33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91});
    auto const e96 = decade(ESeries::e96);
    REQUIRE(e96.size() == 96);
    CHECK(std::vector<int>(e96.begin(), e96.begin() + 12) ==
          std::vector<int>{100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130});
    CHECK(std::vector<int>(e96.end() - 6, e96.end()) == std::vector<int>{866, 887, 909, 931, 953, 976});
    // IEC 60063 (formula from memory, sure): each value is 100 x 10^(n/96) to three digits.
    for (std::size_t n = 0; n < e96.size(); ++n)
        CHECK(e96[n] == static_cast<int>(std::lround(100.0 * std::pow(10.0, static_cast<double>(n) / 96.0))));
}

TEST_CASE("preferred values are exact decimals within the bounds", "[electrical]")
{
    CHECK(preferred_values(ESeries::e12, 4.6, 5.6) == std::vector<double>{4.7, 5.6});
    CHECK(preferred_values(ESeries::e12, 18000.0, 18000.0) == std::vector<double>{18000.0});
    CHECK(preferred_values(ESeries::e96, 0.0999, 0.1025) == std::vector<double>{0.1, 0.102});
    CHECK(preferred_values(ESeries::e24, 5.0, 4.0).empty());
    CHECK(preferred_values(ESeries::e12, 990.0, 1e4).size() == 13);
}

namespace {
NoiseResistorCase station_case()
{
    NoiseResistorCase c;
    c.dc_min_v = 105.0;
    c.dc_max_v = 140.0;
    c.input_ohm = 100e3;
    c.drop_out_v = 40.0;
    c.noise_a = 1e-3;
    c.cable_f = 4.5e-9;
    c.wetting_a = 5e-3;
    c.breaking_a = 0.2;
    c.max_delay_s = 0.5e-3;
    c.power_w = 5.0;
    c.series = ESeries::e12;
    return c;
}
} // namespace

TEST_CASE("the limits of the window are those of Ohm's law worked by hand", "[electrical]")
{
    auto const w = resistor_window(station_case(), 5.0);
    REQUIRE(w.possible());
    auto const limit = [&](char const* name) {
        for (auto const& k : w.constraints)
            if (k.name == name)
                return k.limit_ohm;
        return std::numeric_limits<double>::quiet_NaN();
    };
    CHECK(limit("heat") == Approx(140.0 * 140.0 / 2.5).epsilon(1e-14));
    CHECK(limit("breaking") == Approx(140.0 / (0.2 - 140.0 / 100e3)).epsilon(1e-14));
    CHECK(limit("noise") == Approx(25e3).epsilon(1e-14)); // 20 V at 1 mA is 20 k, less the input's 100 k
    CHECK(limit("wetting") == Approx(21e3).epsilon(1e-14));
    double const allowed = 0.5e-3 / (4.5e-9 * std::log(140.0 / 40.0));
    CHECK(limit("delay") == Approx(1.0 / (1.0 / allowed - 1.0 / 100e3)).epsilon(1e-12));
    CHECK(w.constraints[w.lower].name == "heat");
    CHECK(w.constraints[w.upper].name == "wetting");
}

TEST_CASE("the recommended value is the coolest whose tolerance stays in the window", "[electrical]")
{
    auto const chosen = choose_resistor(station_case());
    REQUIRE(chosen);
    CHECK(chosen->ohm == 18000.0);
    CHECK(chosen->power_rating_w == 5.0);
    CHECK(chosen->power_w == Approx(140.0 * 140.0 / 18000.0).epsilon(1e-14));
    CHECK(chosen->candidates == std::vector<double>{8200.0, 10000.0, 12000.0, 15000.0, 18000.0});
}

TEST_CASE("powers and ratings at 140 V and 280 V agree with the worked table", "[electrical]")
{
    // P = U^2 / R (Joule's law), worked by hand to the digits given. Rating: smallest of the common ones that
    // carries the power at half load (common practice, no source).
    struct Row {
        double volt, ohm, watt, rating;
    };
    for (Row const& row : {Row{140, 10e3, 1.96, 5}, Row{140, 22e3, 0.89, 2}, Row{140, 33e3, 0.59, 2},
                           Row{140, 47e3, 0.42, 1}, Row{140, 100e3, 0.20, 0.5}, Row{280, 22e3, 3.56, 10},
                           Row{280, 47e3, 1.67, 5}, Row{280, 100e3, 0.78, 2}}) {
        CAPTURE(row.volt, row.ohm);
        NoiseResistorCase c;
        c.dc_max_v = row.volt;
        c.dc_min_v = row.volt * 0.75;
        c.drop_out_v = row.volt * 0.3;
        c.input_ohm = 1e6;
        c.wetting_a = c.dc_min_v / (row.ohm * 1.06); // leaves exactly this value as the highest inside
        c.series = ESeries::e12;
        auto const chosen = choose_resistor(c);
        REQUIRE(chosen);
        CHECK(chosen->ohm == row.ohm);
        CHECK(chosen->power_w == Approx(row.watt).epsilon(0).margin(0.005));
        CHECK(chosen->power_rating_w == row.rating);
    }
}

TEST_CASE("inside the window every constraint holds and outside at least one fails", "[electrical][property]")
{
    std::mt19937 random(7);
    auto const pick = [&](double low, double high) {
        return low * std::pow(high / low, std::uniform_real_distribution<>(0.0, 1.0)(random));
    };
    int possible = 0, impossible = 0;
    for (int i = 0; i < 3000; ++i) {
        NoiseResistorCase c;
        c.dc_max_v = pick(24.0, 300.0);
        c.dc_min_v = c.dc_max_v * pick(0.5, 1.0);
        c.drop_out_v = c.dc_min_v * pick(0.1, 0.9);
        c.input_ohm = pick(1e3, 1e6);
        c.noise_a = pick(1e-5, 2e-2);
        c.cable_f = pick(1e-10, 1e-6);
        c.wetting_a = pick(1e-4, 2e-2);
        c.breaking_a = pick(5e-3, 1.0);
        c.max_delay_s = pick(1e-5, 1e-2);
        double const power = pick(0.5, 50.0);
        auto const w = resistor_window(c, power);
        auto const holds = [&](double r) {
            // Straight from the physics, not from the limits.
            double const both = 1.0 / (1.0 / r + 1.0 / c.input_ohm);
            return c.dc_max_v * c.dc_max_v / r <= power * c.derating && c.dc_max_v / both <= *c.breaking_a &&
                   c.noise_a * both <= 0.5 * c.drop_out_v && c.dc_min_v / r >= *c.wetting_a &&
                   both * c.cable_f * std::log(c.dc_max_v / c.drop_out_v) <= *c.max_delay_s;
        };
        if (!w.possible()) {
            ++impossible;
            for (double r = 1.0; r < 1e8; r *= 1.3)
                REQUIRE_FALSE(holds(r));
            continue;
        }
        ++possible;
        REQUIRE(holds(std::sqrt(w.low_ohm * w.high_ohm)));
        REQUIRE_FALSE(holds(w.low_ohm * 0.999));
        REQUIRE_FALSE(holds(w.high_ohm * 1.001));
        c.power_w = power;
        if (auto const chosen = choose_resistor(c); chosen) {
            REQUIRE(holds(chosen->ohm));
            for (double r : chosen->candidates)
                REQUIRE(holds(r));
        }
    }
    CHECK(possible > 100);
    CHECK(impossible > 100);
}

TEST_CASE("tightening a requirement never widens the window", "[electrical][property]")
{
    auto base = station_case();
    auto const w = resistor_window(base, 5.0);
    auto more_noise = base;
    more_noise.noise_a *= 2.0;
    auto more_wetting = base;
    more_wetting.wetting_a = 7e-3;
    auto less_breaking = base;
    less_breaking.breaking_a = 10e-3;
    for (auto const& c : {more_noise, more_wetting, less_breaking}) {
        auto const v = resistor_window(c, 5.0);
        CHECK(v.low_ohm >= w.low_ohm);
        CHECK(v.high_ohm <= w.high_ohm);
    }
}

TEST_CASE("a contact that cannot break the input's own current leaves no resistor", "[electrical]")
{
    auto c = station_case();
    c.breaking_a = 1e-3; // the input alone draws 1.4 mA
    auto const w = resistor_window(c, 5.0);
    CHECK_FALSE(w.possible());
    CHECK(std::isinf(w.low_ohm));
    CHECK_FALSE(choose_resistor(c));
}

TEST_CASE("noise that the input alone keeps low enough puts no upper bound on the resistor", "[electrical]")
{
    auto c = station_case();
    c.noise_a = 1e-4; // 10 V over the bare input of 100 k, 20 V allowed
    for (auto const& k : resistor_window(c, 5.0).constraints)
        if (k.name == "noise")
            CHECK(std::isinf(k.limit_ohm));
}

TEST_CASE("cases that contradict themselves are refused by name", "[electrical]")
{
    auto const where = [](auto change) {
        auto c = station_case();
        change(c);
        auto const good = check_case(c, "inputs");
        return good ? std::string() : good.error().where;
    };
    CHECK(where([](auto&) {}).empty());
    CHECK(where([](auto& c) { c.dc_min_v = 150.0; }) == "inputs.dc_min");
    CHECK(where([](auto& c) { c.dc_min_v = 0.0; }) == "inputs.dc_min");
    CHECK(where([](auto& c) { c.input_ohm = 0.0; }) == "inputs.input_resistance");
    CHECK(where([](auto& c) { c.drop_out_v = 0.0; }) == "inputs.drop_out");
    CHECK(where([](auto& c) { c.drop_out_v = 110.0; }) == "inputs.drop_out");
    CHECK(where([](auto& c) { c.derating = 0.0; }) == "inputs.derating");
    CHECK(where([](auto& c) { c.derating = 1.1; }) == "inputs.derating");
    CHECK(where([](auto& c) { c.tolerance = -0.1; }) == "inputs.tolerance");
}

TEST_CASE("coupled current and cable delay agree with the worked figures", "[electrical]")
{
    // 200 m at 0.3 nF/m is 60 nF; with 22 k the time constant is 1.32 ms (worked example).
    NoiseResistorCase c;
    c.dc_max_v = 125.0 * std::exp(1.0);
    c.drop_out_v = 125.0;
    c.input_ohm = 1e12;
    c.cable_f = 200.0 * 0.3e-9;
    CHECK(value_at(c, "delay", 22e3) == Approx(1.32e-3).epsilon(1e-6));
    CHECK(coupled_current_a(125.0, 60.0, 60e-9) == Approx(125.0 * 376.99111843 * 60e-9).epsilon(1e-10));
}
