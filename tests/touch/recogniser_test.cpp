#include "touch/recogniser.h"
#include <catch2/catch.hpp>
#include <cmath>

using namespace isochore::touch;
using Kind = PointerEvent::Kind;

namespace {

/// A finger on a tablet of 217 by 135 mm, and a clock.
struct Bench {
    Recogniser fingers;
    double now = 10.0;
    Under under = Under::plain;

    Bench() { fingers.resize(217.0, 135.0); }

    void event(Kind kind, Point at, std::int64_t contact = 1, bool mouse = false)
    {
        fingers.push({kind, contact, at, now, mouse});
    }
    Gestures next()
    {
        return fingers.next(now, [this](Point) { return under; });
    }
    Gestures after(double seconds)
    {
        now += seconds;
        return next();
    }
    /// Moves in a straight line, one event each `dt`, and gives what was panned.
    Point move(Point from, Point to, int steps, double dt = 0.01, std::int64_t contact = 1)
    {
        Point way;
        for (int i = 1; i <= steps; ++i) {
            now += dt;
            double const t = static_cast<double>(i) / steps;
            event(Kind::move, {from.x + t * (to.x - from.x), from.y + t * (to.y - from.y)}, contact);
            if (auto const g = next(); g.pan) {
                way.x += g.pan->dx;
                way.y += g.pan->dy;
            }
        }
        return way;
    }
};

} // namespace

TEST_CASE("a finger put down is a press, lifted in place a tap where it was aimed", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 60});
    auto const pressed = b.next();
    REQUIRE(pressed.pressed);
    CHECK(pressed.pressed->x == 50.0);
    CHECK_FALSE(pressed.tap);
    b.now += 0.2;
    b.event(Kind::up, {51.5, 61.0}); // the glove rolled
    auto const tapped = b.next();
    REQUIRE(tapped.tap);
    CHECK(tapped.tap->x == 50.0);
    CHECK(tapped.tap->y == 60.0);
    CHECK_FALSE(b.next().pressed);
}

TEST_CASE("down and up that arrive together are still a press and then a tap", "[touch]")
{
    Bench b;
    for (int i = 0; i < 2; ++i) {
        b.event(Kind::down, {50, 60});
        b.event(Kind::up, {50, 60});
    }
    int taps = 0, presses = 0, frames = 0;
    for (; b.fingers.pending(); ++frames) {
        auto const g = b.next();
        taps += g.tap.has_value();
        presses += g.pressed.has_value();
    }
    CHECK(taps == 2);
    CHECK(presses == 2);
    CHECK(frames == 4);
}

TEST_CASE("a long touch is still a tap where nothing wants a hold", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 60});
    (void)b.next();
    CHECK_FALSE(b.after(2.0).hold);
    b.event(Kind::up, {50, 60});
    CHECK(b.next().tap);
}

TEST_CASE("a hold is given once after 0.6 s, and its lift is no tap", "[touch]")
{
    Bench b;
    b.under = Under::hold;
    b.event(Kind::down, {50, 60});
    CHECK(b.next().held_s == 0.0);
    CHECK(b.fingers.animating());
    auto const half = b.after(0.3);
    CHECK_FALSE(half.hold);
    CHECK(half.held_s == Approx(0.3).epsilon(0).margin(1e-9));
    CHECK_FALSE(b.after(0.29).hold);
    CHECK(b.after(0.02).hold);
    CHECK_FALSE(b.after(0.1).hold);
    CHECK_FALSE(b.fingers.animating());
    b.event(Kind::up, {50, 60});
    CHECK_FALSE(b.next().tap);
}

TEST_CASE("a hold let go too early does nothing but what a tap does", "[touch]")
{
    Bench b;
    b.under = Under::hold;
    b.event(Kind::down, {50, 60});
    (void)b.next();
    (void)b.after(0.5);
    b.event(Kind::up, {50, 60});
    auto const g = b.next();
    CHECK_FALSE(g.hold);
    CHECK(g.tap); // the screens ignore taps on what must be held
    CHECK_FALSE(b.after(1.0).hold);
}

TEST_CASE("a hold that slides away is cancelled", "[touch]")
{
    Bench b;
    b.under = Under::hold;
    b.event(Kind::down, {50, 60});
    (void)b.next();
    b.move({50, 60}, {50, 70}, 5);
    CHECK_FALSE(b.after(1.0).hold);
    b.event(Kind::up, {50, 70});
    auto const g = b.next();
    CHECK_FALSE(g.hold);
    CHECK_FALSE(g.tap);
}

TEST_CASE("moving within the slop pans nothing, beyond it pans and never taps", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 60});
    (void)b.next();
    CHECK(b.move({50, 60}, {50, 62.5}, 5).y == 0.0);
    auto const way = b.move({50, 62.5}, {50, 90}, 20);
    CHECK(way.y > 24.0);
    CHECK(way.y <= 27.5); // what lay within the slop is not made up for
    b.event(Kind::move, {50, 90});
    CHECK_FALSE(b.next().pressed);
    b.event(Kind::up, {50, 90});
    CHECK_FALSE(b.next().tap);
}

TEST_CASE("a pan tells where it began, however far it went", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 60});
    (void)b.next();
    b.move({50, 60}, {50, 100}, 20);
    b.now += 0.01;
    b.event(Kind::move, {50, 101});
    auto const g = b.next();
    REQUIRE(g.pan);
    CHECK(g.pan->origin.x == 50.0);
    CHECK(g.pan->origin.y == 60.0);
}

TEST_CASE("a flung list coasts, slows down and stops; how far does not depend on the frame rate", "[touch]")
{
    double ways[2] = {0.0, 0.0};
    int index = 0;
    for (double const dt : {1.0 / 60.0, 1.0 / 21.0}) {
        Bench b;
        b.event(Kind::down, {50, 120});
        (void)b.next();
        b.move({50, 120}, {50, 60}, 10); // 600 mm/s
        b.event(Kind::up, {50, 60});
        (void)b.next();
        REQUIRE(b.fingers.animating());
        double last = -1e9, way = 0.0;
        int frames = 0;
        while (b.fingers.animating() && frames < 1000) {
            auto const g = b.after(dt);
            ++frames;
            if (!g.pan)
                continue;
            CHECK(g.pan->coasting);
            CHECK(g.pan->dy < 0.0);
            CHECK(g.pan->dy > last); // slower every frame
            last = g.pan->dy;
            way += g.pan->dy;
        }
        CHECK(frames < 1000);
        CHECK(frames * dt < 2.0);
        ways[index++] = way;
    }
    CHECK(ways[0] < -100.0);
    CHECK(ways[1] == Approx(ways[0]).epsilon(0).margin(2.5));
}

TEST_CASE("a finger that stopped before it lifted does not coast", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 120});
    (void)b.next();
    b.move({50, 120}, {50, 60}, 10);
    b.now += 0.3;
    b.event(Kind::up, {50, 60});
    (void)b.next();
    CHECK_FALSE(b.fingers.animating());
}

TEST_CASE("a touch that stops a coast stops it and taps nothing", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 120});
    (void)b.next();
    b.move({50, 120}, {50, 60}, 10);
    b.event(Kind::up, {50, 60});
    (void)b.next();
    (void)b.after(0.05);
    REQUIRE(b.fingers.animating());
    b.event(Kind::down, {80, 70});
    CHECK_FALSE(b.next().pan);
    CHECK_FALSE(b.fingers.animating());
    b.event(Kind::up, {80, 70});
    CHECK_FALSE(b.next().tap);
    // The next one taps again.
    b.event(Kind::down, {80, 70});
    (void)b.next();
    b.event(Kind::up, {80, 70});
    CHECK(b.next().tap);
}

TEST_CASE("a coast can be stopped at the end of a list", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 120});
    (void)b.next();
    b.move({50, 120}, {50, 60}, 10);
    b.event(Kind::up, {50, 60});
    (void)b.next();
    b.fingers.stop_coast();
    CHECK_FALSE(b.after(0.05).pan);
}

TEST_CASE("after a long sleep a coast does not leap", "[touch]")
{
    Bench b;
    b.event(Kind::down, {50, 120});
    (void)b.next();
    b.move({50, 120}, {50, 60}, 10);
    b.event(Kind::up, {50, 60});
    (void)b.next();
    auto const g = b.after(30.0);
    if (g.pan)
        CHECK(std::abs(g.pan->dy) < 70.0);
}

TEST_CASE("a second finger cancels the first and means nothing itself", "[touch][palm]")
{
    Bench b;
    b.under = GENERATE(Under::plain, Under::hold);
    b.event(Kind::down, {50, 60}, 1);
    (void)b.next();
    b.event(Kind::down, {100, 60}, 2);
    CHECK_FALSE(b.next().pressed);
    CHECK_FALSE(b.after(1.0).hold);
    b.event(Kind::up, {50, 60}, 1);
    CHECK_FALSE(b.next().tap);
    b.event(Kind::up, {100, 60}, 2);
    CHECK_FALSE(b.next().tap);
    b.under = Under::plain;
    b.event(Kind::down, {50, 60}, 3);
    (void)b.next();
    b.event(Kind::up, {50, 60}, 3);
    CHECK(b.next().tap);
}

TEST_CASE("a palm, many contacts at once, taps nothing and scrolls nothing", "[touch][palm]")
{
    Bench b;
    for (int i = 0; i < 4; ++i)
        b.event(Kind::down, {40.0 + 12.0 * i, 80.0}, 10 + i);
    while (b.fingers.pending())
        (void)b.next();
    for (int k = 0; k < 10; ++k) {
        b.now += 0.01;
        for (int i = 0; i < 4; ++i)
            b.event(Kind::move, {40.0 + 12.0 * i, 80.0 + 2.0 * k}, 10 + i);
        while (b.fingers.pending())
            CHECK_FALSE(b.next().pan);
    }
    for (int i = 0; i < 4; ++i)
        b.event(Kind::up, {40.0 + 12.0 * i, 100.0}, 10 + i);
    while (b.fingers.pending())
        CHECK_FALSE(b.next().tap);
}

TEST_CASE("the hand that holds the tablet by its edge does not block the other", "[touch][palm]")
{
    Bench b;
    b.event(Kind::down, {1.5, 70}, 1);
    CHECK_FALSE(b.next().pressed);
    b.event(Kind::down, {100, 60}, 2);
    CHECK(b.next().pressed);
    b.event(Kind::up, {100, 60}, 2);
    CHECK(b.next().tap);
    b.event(Kind::up, {1.5, 70}, 1);
    CHECK_FALSE(b.next().tap);
}

TEST_CASE("a contact that lies still for seconds, such as a drop of water, does not block a finger",
          "[touch][palm]")
{
    Bench b;
    b.event(Kind::down, {30, 30}, 1);
    (void)b.next();
    (void)b.after(4.0);
    b.event(Kind::down, {100, 60}, 2);
    CHECK(b.next().pressed);
    b.event(Kind::up, {100, 60}, 2);
    CHECK(b.next().tap);
    b.event(Kind::up, {30, 30}, 1);
    CHECK_FALSE(b.next().tap);
}

TEST_CASE("a drawing pad gets every move and pans nothing", "[touch][pad]")
{
    Bench b;
    b.under = Under::pad;
    b.event(Kind::down, {50, 60});
    auto g = b.next();
    CHECK(g.drawing_began);
    CHECK(g.drawn.size() == 1);
    for (int i = 1; i <= 3; ++i)
        b.event(Kind::move, {50.0 + 5 * i, 60.0});
    g = b.next();
    CHECK(g.drawn.size() == 3);
    CHECK_FALSE(g.pan);
    CHECK_FALSE(g.pressed);
    b.event(Kind::up, {65, 60});
    g = b.next();
    CHECK(g.drawing_ended);
    CHECK_FALSE(g.tap);
}

TEST_CASE("the mouse taps at the very edge, where a finger would be the hand that holds", "[touch]")
{
    Bench b;
    b.event(Kind::down, {1.0, 70}, -1, true);
    CHECK(b.next().pressed);
    b.event(Kind::up, {1.0, 70}, -1, true);
    CHECK(b.next().tap);
}

TEST_CASE("moves and lifts of unknown contacts, and cancels, do no harm", "[touch]")
{
    Bench b;
    b.event(Kind::move, {10, 10}, 99);
    b.event(Kind::up, {10, 10}, 99);
    while (b.fingers.pending()) {
        auto const g = b.next();
        CHECK_FALSE(g.tap);
        CHECK_FALSE(g.pan);
    }
    b.event(Kind::down, {50, 60});
    (void)b.next();
    b.event(Kind::cancel, {50, 60});
    CHECK_FALSE(b.next().tap);
    b.event(Kind::down, {50, 60});
    (void)b.next();
    b.fingers.forget();
    CHECK_FALSE(b.next().pressed);
}
