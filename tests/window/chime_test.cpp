#include "window/chime.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>

using isochore::window::Chime;

TEST_CASE("a due reading is called out at once, then twice a minute, and not once it is entered")
{
    Chime chime;
    chime.silence();
    CHECK_FALSE(chime.follow(false, 0.0));
    CHECK(chime.follow(true, 10.0));
    CHECK_FALSE(chime.follow(true, 11.0));
    CHECK_FALSE(chime.follow(true, 39.9));
    CHECK(chime.follow(true, 40.0));
    CHECK_FALSE(chime.follow(false, 41.0));
    CHECK(chime.follow(true, 42.0));
}

TEST_CASE("the two notes begin and end in silence and are never clipped")
{
    auto const samples = isochore::window::chime_samples(44100);
    REQUIRE(samples.size() > 8000);
    CHECK(std::abs(samples.front()) < 100);
    CHECK(std::abs(samples.back()) < 400);
    int loudest = 0;
    for (auto const s : samples)
        loudest = std::max(loudest, std::abs(static_cast<int>(s)));
    CHECK(loudest < 20000);
    CHECK(loudest > 8000);
}
