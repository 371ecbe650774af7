#include "quantity/amount.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace isochore;
using Code = Error::Code;

namespace {

Code refused(std::string_view text, Dimension dimension)
{
    auto const r = parse_amount(text, dimension, "place");
    INFO(text);
    REQUIRE_FALSE(r);
    CHECK(r.error().where == "place");
    CHECK_FALSE(r.error().detail.empty());
    return r.error().code;
}

double si(std::string_view text, Dimension dimension)
{
    auto const r = parse_amount(text, dimension, "place");
    INFO(text);
    REQUIRE(r);
    return r->si;
}

} // namespace

TEST_CASE("conversion factors are those of NIST SP 811, appendix B.8", "[quantity][published]")
{
    // NIST SP 811 (2008), B.8, as printed to seven figures.
    CHECK(si("1 psi abs", Dimension::pressure) == Approx(6894.757).epsilon(1e-7));
    CHECK(si("1 torr abs", Dimension::pressure) == Approx(133.3224).epsilon(5e-7));
    CHECK(si("1 inHg abs", Dimension::pressure) == Approx(3386.389).epsilon(1e-9));
    CHECK(si("1 inH2O abs", Dimension::pressure) == Approx(249.0889).epsilon(1e-9));
    CHECK(si("1 kgf/cm2 abs", Dimension::pressure) == 98066.5);
    CHECK(si("1 micron abs", Dimension::pressure) == Approx(0.1333224).epsilon(1e-9));
    CHECK(si("1 atm abs", Dimension::pressure) == 101325.0);
    CHECK(si("1 lb", Dimension::mass) == 0.45359237);
    CHECK(si("1 oz", Dimension::mass) == Approx(0.02834952).epsilon(2e-7));
    CHECK(si("1 lbf", Dimension::force) == Approx(4.448222).epsilon(1e-7));
    CHECK(si("1 lbf in", Dimension::torque) == Approx(0.1129848).epsilon(3e-7));
    CHECK(si("1 lbf ft", Dimension::torque) == Approx(1.355818).epsilon(3e-7));
    CHECK(si("1 ft3", Dimension::volume) == Approx(0.02831685).epsilon(2e-7));
    CHECK(si("87 psi abs", Dimension::pressure) == Approx(599840.0).epsilon(1e-5));
    CHECK(si("115 lb", Dimension::mass) == Approx(52.163).epsilon(1e-5));
    CHECK(si("68 degF", Dimension::temperature) == Approx(293.15).epsilon(1e-12));
}

TEST_CASE("a pressure says whether it is absolute or gauge in many spellings", "[quantity]")
{
    auto const reference = [](std::string_view text) {
        auto const r = parse_amount(text, Dimension::pressure, "p");
        INFO(text);
        REQUIRE(r);
        return r->reference;
    };
    for (char const* text : {"0.62 MPa abs", "6.2 bar abs", "6.2 bar a", "90 psia"})
        CHECK(reference(text) == PressureReference::absolute);
    for (char const* text : {"4.94 bar g", "87 psig", "4.94 bar gauge", "-0.2 bar g"})
        CHECK(reference(text) == PressureReference::gauge);
    CHECK(refused("6.2 bar", Dimension::pressure) == Code::invalid_input);
    CHECK(refused("-1 kPa abs", Dimension::pressure) == Code::out_of_range);
    CHECK(refused("-200 kPa g", Dimension::pressure) == Code::out_of_range);
    CHECK(refused("6.2 bar of", Dimension::pressure) == Code::invalid_input);
}

TEST_CASE("a bare number, a comma or a wrong unit is refused, not guessed", "[quantity]")
{
    for (char const* text : {"20", "1,200 mm", "1.2.3 m", "mm", "- m", "+-5 m", "++5 m", "1e m", "0x10 m", "nan m",
                             "inf m", "1 m m", "1 M", "5 kg", "1 m\n2", "１ m"}) {
        INFO(text);
        CHECK_FALSE(parse_amount(text, Dimension::length, "l"));
    }
    CHECK(refused("", Dimension::length) == Code::missing_input);
    CHECK(refused("   ", Dimension::length) == Code::missing_input);
    CHECK(refused("1e400 m", Dimension::length) != Code::missing_input);
    CHECK(refused("-274 degC", Dimension::temperature) == Code::out_of_range);
    CHECK(refused("20 K bar", Dimension::temperature) == Code::invalid_input);
}

TEST_CASE("numbers are read the same however they are set out", "[quantity]")
{
    CHECK(si(" 12.5  mm ", Dimension::length) == Approx(0.0125));
    CHECK(si("12.5mm", Dimension::length) == Approx(0.0125));
    CHECK(si(".5 m", Dimension::length) == 0.5);
    CHECK(si("-3 m", Dimension::length) == -3.0);
    CHECK(si("+3 m", Dimension::length) == 3.0);
    CHECK(si("1e-3 m", Dimension::length) == 1e-3);
    CHECK(si("20 °C", Dimension::temperature) == Approx(293.15));
    CHECK(si("50 µohm", Dimension::resistance) == Approx(5e-5));
    CHECK(si("5 kΩ", Dimension::resistance) == 5000.0);
    CHECK(si("7", Dimension::count) == 7.0);
    CHECK(si("0.5 %/yr", Dimension::fraction_rate) == Approx(0.005 / (365.25 * 86400.0)));
}

TEST_CASE("an interval of temperature is not a point on the scale", "[quantity]")
{
    CHECK(si("20 degC", Dimension::temperature) == Approx(293.15));
    CHECK(si("20 degC", Dimension::temperature_difference) == 20.0);
    CHECK(si("9 degF", Dimension::temperature_difference) == Approx(5.0));
}

TEST_CASE("every unit turns to SI and back, and is found by its own name", "[quantity][property]")
{
    for (Unit const& unit : all_units()) {
        INFO(unit.name);
        CHECK(find_unit(unit.name, unit.dimension) == &unit);
        CHECK(unit.factor > 0.0);
        CHECK(unit.from_si(unit.to_si(12.34)) == Approx(12.34).epsilon(1e-12));
        if (!unit.shown.empty())
            CHECK(find_unit(unit.shown, unit.dimension) != nullptr);
    }
    for (int d = 0; d <= static_cast<int>(Dimension::count); ++d) {
        auto const dimension = static_cast<Dimension>(d);
        CHECK(si_unit(dimension).dimension == dimension);
        CHECK(si_unit(dimension).factor == 1.0);
        CHECK(dimension_by_name(dimension_name(dimension)) == dimension);
    }
    CHECK(find_unit("furlong", Dimension::length) == nullptr);
    CHECK_FALSE(dimension_by_name("no such"));
}

TEST_CASE("what is shown can be read back", "[quantity][property]")
{
    for (double value : {4.94, 0.0, -12.0, 1e-6, 123456.0, 0.000123, 7.0e8, 99.95})
        for (char const* name : {"MPa", "bar", "kPa", "psi"}) {
            Unit const* const unit = find_unit(name, Dimension::pressure_difference);
            std::string const text = show_amount(unit->to_si(value), *unit, 6);
            auto const back = parse_amount(text, Dimension::pressure_difference, "p");
            INFO(text);
            REQUIRE(back);
            CHECK(back->si == Approx(unit->to_si(value)).epsilon(1e-5).margin(1e-12));
        }
    CHECK(show_amount(594880.7, *find_unit("bar", Dimension::pressure), 3, PressureReference::absolute) ==
          "5.95 bar abs");
    CHECK(show_fixed(-0.0004, 2) == "0.00");
    CHECK(show_number(0.0, 3) == "0");
    CHECK(show_number(INFINITY, 3) == "–");
}

TEST_CASE("decimals follow the uncertainty", "[quantity]")
{
    // JCGM 100, 7.2.6: two significant figures of u.
    CHECK(decimals_for(0.0785) == 3);
    CHECK(decimals_for(0.3) == 2);
    CHECK(decimals_for(12.0) == 0);
    CHECK(decimals_for(0.0) == 6);
    CHECK(decimals_for(std::numeric_limits<double>::quiet_NaN(), 3) == 3);
}

TEST_CASE("no text whatever stops the reader", "[quantity][property]")
{
    // Every text of up to three characters from a nasty alphabet: it answers or refuses, and never with NaN.
    std::string const alphabet = "0.-+eE %,gm\t\xC2\xB5";
    for (char a : alphabet)
        for (char b : alphabet)
            for (char c : alphabet) {
                std::string const text{a, b, c};
                for (auto const d : {Dimension::pressure, Dimension::mass, Dimension::count}) {
                    auto const r = parse_amount(text, d, "x");
                    if (r)
                        REQUIRE(std::isfinite(r->si));
                }
            }
}
