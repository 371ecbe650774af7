#include "screens/theme.h"
#include <catch2/catch.hpp>

using namespace isochore::screens;
using isochore::drawing::Ink;

TEST_CASE("contrast is reckoned as WCAG 2.1 defines it", "[screens][published]")
{
    // WCAG 2.1: black on white is 21 to 1, a colour on itself 1 to 1.
    CHECK(contrast({0, 0, 0}, {255, 255, 255}) == Approx(21.0).epsilon(0).margin(1e-9));
    CHECK(contrast({12, 120, 3}, {12, 120, 3}) == Approx(1.0).epsilon(0).margin(1e-12));
    // #767676 on white is the well-known grey that just passes 4.5 to 1 (common practice, no source).
    CHECK(contrast({0x76, 0x76, 0x76}, {255, 255, 255}) == Approx(4.54).epsilon(0).margin(0.005));
}

TEST_CASE("every text ink reads at 7 to 1 or better in every theme, body text at 15 to 1 in print",
          "[screens][contrast]")
{
    REQUIRE(themes().size() == 3);
    for (auto const& theme : themes())
        for (auto const& pair : text_pairs()) {
            double const ratio = contrast(theme.of(pair.text), theme.of(pair.background));
            INFO(theme.name << ": ink " << static_cast<int>(pair.text) << " on "
                            << static_cast<int>(pair.background) << " is " << ratio);
            CHECK(ratio >= 7.0);
            if (theme.name == "print" && pair.body)
                CHECK(ratio >= 15.0);
        }
}

TEST_CASE("lines that carry meaning stand out at 3 to 1 or better", "[screens][contrast]")
{
    // WCAG 2.1, 1.4.11: non-text contrast.
    for (auto const& theme : themes())
        for (auto const ink : {Ink::line, Ink::accent, Ink::pass, Ink::fail, Ink::undecided})
            for (auto const ground : {Ink::paper, Ink::panel}) {
                INFO(theme.name << ": ink " << static_cast<int>(ink));
                CHECK(contrast(theme.of(ink), theme.of(ground)) >= 3.0);
            }
}

TEST_CASE("an unknown theme is the print theme", "[screens]")
{
    CHECK(theme_named("blueprint").name == "blueprint");
    CHECK(theme_named("no such thing").name == "print");
}
