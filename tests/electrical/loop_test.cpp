#include "electrical/current_loop.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::electrical;

TEST_CASE("4, 12 and 20 mA are the ends and the middle of the range", "[electrical]")
{
    CurrentLoop l;
    l.low = -1e5;
    l.high = 9e5;
    CHECK(loop_value(l, 0.004) == Approx(-1e5));
    CHECK(loop_value(l, 0.012) == Approx(4e5));
    CHECK(loop_value(l, 0.020) == Approx(9e5));
}

TEST_CASE("value and current are inverse to one another, also outside the range", "[electrical][property]")
{
    for (double low : {0.0, -3.0, 250.0})
        for (double span : {1e-3, 1.0, 1e6})
            for (double ma = 0.0; ma < 25.0; ma += 0.37) {
                CurrentLoop l;
                l.low = low;
                l.high = low + span;
                CHECK(loop_current_a(l, loop_value(l, ma * 1e-3)) ==
                      Approx(ma * 1e-3).epsilon(1e-9).margin(1e-12));
            }
}

TEST_CASE("the bands of a loop run open, under, measuring, over, short", "[electrical]")
{
    // Bands of a live-zero loop: common practice, no source.
    CurrentLoop l;
    l.open_below_a = 0.0036; // NAMUR NE 43 (from memory)
    l.short_above_a = 0.021;
    l.valid_from_a = 0.0038;
    l.valid_to_a = 0.0205;
    CHECK(loop_state(l, 0.0) == LoopState::open_loop);
    CHECK(loop_state(l, 0.00359) == LoopState::open_loop);
    CHECK(loop_state(l, 0.0037) == LoopState::under_range);
    CHECK(loop_state(l, 0.004) == LoopState::measuring);
    CHECK(loop_state(l, 0.0205) == LoopState::measuring);
    CHECK(loop_state(l, 0.0208) == LoopState::over_range);
    CHECK(loop_state(l, 0.0211) == LoopState::shorted);
    CHECK(loop_state(l, -0.01) == LoopState::open_loop);
}

TEST_CASE("a range without span, swapped ends or currents out of order are refused", "[electrical]")
{
    CurrentLoop l;
    CHECK(check_loop(l, "t"));
    l.high = l.low;
    CHECK(check_loop(l, "t").error().where == "t.range_high");
    l.high = l.low - 1.0;
    CHECK(check_loop(l, "t").error().detail.find("swapped") != std::string::npos);
    l = {};
    l.open_below_a = 0.005;
    CHECK_FALSE(check_loop(l, "t"));
}
