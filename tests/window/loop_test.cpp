#include "window/fake_program.h"
#include "window/loop.h"
#include <SDL.h>
#include <catch2/catch.hpp>
#include <thread>

using namespace isochore;
using window::choose_dpi;

namespace {

std::unique_ptr<window::Surface> open_surface()
{
    window::WindowOptions options;
    options.driver = "offscreen";
    options.dpi = 149.5;
    auto surface = window::Surface::open(options);
    if (!surface)
        FAIL(surface.error().detail);
    return std::move(*surface);
}

void drain(window::Loop& loop)
{
    SDL_Event event;
    while (SDL_PollEvent(&event) == 1)
        loop.handle(event);
}

int settle(window::Loop& loop)
{
    int frames = 0;
    drain(loop);
    while (loop.frame() && frames < 100)
        ++frames;
    return frames;
}

} // namespace

TEST_CASE("dots an inch come from option, setting, environment, display, in this order, within reason",
          "[window][dpi]")
{
    CHECK(choose_dpi(200.0, 150.0, "120", 96.0) == 200.0);
    CHECK(choose_dpi(0.0, 150.0, "120", 96.0) == 150.0);
    CHECK(choose_dpi(0.0, std::nullopt, "120", 96.0) == 120.0);
    CHECK(choose_dpi(0.0, std::nullopt, nullptr, 96.0) == 96.0);
    CHECK(choose_dpi(0.0, std::nullopt, "rubbish", 0.0) == 150.0);
    CHECK(choose_dpi(0.0, 5000.0, nullptr, 0.0) == 420.0);
    CHECK(choose_dpi(0.0, 10.0, nullptr, 0.0) == 90.0);
}

TEST_CASE("nothing is drawn, and the program is not asked, while nothing happens", "[window][idle]")
{
    auto surface = open_surface();
    demo::FakeProgram program;
    window::Loop loop(program, *surface);
    CHECK(settle(loop) >= 1);
    int const views = program.views;
    for (int i = 0; i < 50; ++i)
        CHECK_FALSE(loop.frame());
    CHECK(program.views == views);
    CHECK(loop.sleep_ms() == -1);
}

TEST_CASE("a program that asked for a time is woken then, not before", "[window][idle]")
{
    auto surface = open_surface();
    demo::FakeProgram program;
    program.wake = 0.5;
    window::Loop loop(program, *surface);
    double now = 100.0;
    loop.override_clock([&] { return now; });
    settle(loop);
    CHECK(loop.sleep_ms() > 400);
    CHECK(loop.sleep_ms() <= 501);
    now += 0.4;
    CHECK_FALSE(loop.frame());
    now += 0.2;
    CHECK(loop.frame());
}

TEST_CASE("a worker wakes a sleeping window", "[window][idle]")
{
    auto surface = open_surface();
    demo::FakeProgram program;
    window::Loop loop(program, *surface);
    settle(loop);
    std::thread([] { window::wake_window(); }).join();
    drain(loop);
    CHECK(loop.frame());
}

TEST_CASE("a tap is seen in the very next frame", "[window][latency]")
{
    auto surface = open_surface();
    demo::FakeProgram program;
    window::Loop loop(program, *surface);
    settle(loop);
    auto const before = surface->pixels();
    SDL_Event event{};
    event.type = SDL_FINGERDOWN;
    event.tfinger.fingerId = 3;
    event.tfinger.x = 0.4F; // "Record reading"
    event.tfinger.y = 0.9F;
    SDL_PushEvent(&event);
    drain(loop);
    CHECK(loop.frame());
    CHECK(surface->pixels() != before);
    CHECK(program.seen.empty());
    event.type = SDL_FINGERUP;
    SDL_PushEvent(&event);
    drain(loop);
    CHECK(loop.frame());
    REQUIRE(program.seen.size() == 1);
    CHECK(program.seen.front().id == "record");
}

TEST_CASE("closing the window, losing the focus and hiding are taken as they should be", "[window]")
{
    auto surface = open_surface();
    demo::FakeProgram program;
    window::Loop loop(program, *surface);
    settle(loop);
    SDL_Event event{};
    event.type = SDL_WINDOWEVENT;
    event.window.event = SDL_WINDOWEVENT_MINIMIZED;
    CHECK(loop.handle(event));
    CHECK_FALSE(loop.frame()); // hidden: nothing is drawn
    CHECK(loop.sleep_ms() == -1);
    event.window.event = SDL_WINDOWEVENT_RESTORED;
    loop.handle(event);
    CHECK(loop.frame());
    event.type = SDL_QUIT;
    CHECK_FALSE(loop.handle(event));
}

TEST_CASE("keys of a real keyboard come one by one", "[window]")
{
    auto surface = open_surface();
    demo::FakeProgram program;
    program.entry = true;
    window::Loop loop(program, *surface);
    settle(loop);
    SDL_Event event{};
    event.type = SDL_TEXTINPUT;
    std::snprintf(event.text.text, sizeof event.text.text, "4.6Ω");
    loop.handle(event);
    REQUIRE(program.seen.size() == 4);
    CHECK(program.seen[3].text == "Ω");
    event = {};
    event.type = SDL_KEYDOWN;
    event.key.keysym.sym = SDLK_BACKSPACE;
    loop.handle(event);
    CHECK(program.typed == "4.6\xCE"); // the fake takes bytes away; the true one takes characters
}
