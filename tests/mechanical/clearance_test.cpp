#include "mechanical/clearance.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace isochore;
using namespace isochore::mechanical;

TEST_CASE("a stack leaves what its parts do not fill, with both spreads", "[mechanical]")
{
    auto const c =
        stack_clearance({"depth", 0.250, 0.002}, {{"unit", 0.120, 0.001}, {"bend", 0.100, 0.003}}, "t");
    REQUIRE(c);
    CHECK(c->nominal_m == Approx(0.030).epsilon(1e-12));
    CHECK(c->worst_m() == Approx(0.024).epsilon(1e-12));
    CHECK(c->spread_rss_m == Approx(std::sqrt(4e-6 + 1e-6 + 9e-6)).epsilon(1e-12));
}

TEST_CASE("parts deeper than the cabinet give a negative clearance, not an error", "[mechanical]")
{
    CHECK(stack_clearance({"depth", 0.1, 0.0}, {{"unit", 0.12, 0.0}}, "t")->nominal_m == Approx(-0.02));
}

TEST_CASE("no draw of the parts lies outside the worst case, and most lie within the statistical one",
          "[mechanical][property]")
{
    std::mt19937 random(5);
    StackPart const depth{"depth", 0.25, 0.002};
    std::vector<StackPart> const parts{
        {"a", 0.06, 0.001}, {"b", 0.07, 0.002}, {"c", 0.05, 0.0015}, {"d", 0.03, 0.001}};
    auto const c = stack_clearance(depth, parts, "t");
    int inside = 0;
    for (int i = 0; i < 20000; ++i) {
        auto const draw = [&](StackPart const& p) {
            return p.size_m + std::uniform_real_distribution<>(-p.tolerance_m, p.tolerance_m)(random);
        };
        double left = draw(depth);
        for (auto const& p : parts)
            left -= draw(p);
        REQUIRE(left >= c->worst_m() - 1e-15);
        inside += left >= c->likely_worst_m() ? 1 : 0;
    }
    CHECK(inside > 19000);
}

TEST_CASE("negative sizes and tolerances are refused", "[mechanical]")
{
    CHECK_FALSE(stack_clearance({"depth", 0.0, 0.0}, {}, "t"));
    CHECK_FALSE(stack_clearance({"depth", 0.1, 0.0}, {{"a", -0.01, 0.0}}, "t"));
    CHECK_FALSE(stack_clearance({"depth", 0.1, 0.0}, {{"a", 0.01, -0.001}}, "t"));
}

TEST_CASE("a window shows more of a display the nearer the eye and the further behind it stands",
          "[mechanical]")
{
    SightCase c{0.1, 0.2, 0.0, 0.0, 0.5};
    CHECK(visible_share(c) == Approx(0.5));
    c.gap_m = 0.5; // twice the distance: the whole display
    CHECK(visible_share(c) == Approx(1.0));
    c.gap_m = 0.1;
    double last = 1.0;
    for (double eye : {0.2, 0.3, 0.6, 2.0}) {
        c.eye_distance_m = eye;
        CHECK(visible_share(c) < last + 1e-15);
        last = visible_share(c);
    }
    c.offset_m = 1.0;
    CHECK(visible_share(c) == 0.0);
}
