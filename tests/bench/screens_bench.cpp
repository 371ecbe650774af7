// Time to the first frame, frame time and idle cost of the window, with whatever OpenGL the machine has (in
// continuous integration: software). Prints figures, decides nothing.
#include "screens/demo_sheets.h"
#include "window/loop.h"
#include <SDL.h>
#include <SDL_opengl.h>
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <functional>
#include <sys/resource.h>

using namespace isochore;

namespace {

using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start)
{
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

double cpu_ms()
{
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    auto const of = [](timeval t) {
        return static_cast<double>(t.tv_sec) * 1e3 + static_cast<double>(t.tv_usec) / 1e3;
    };
    return of(usage.ru_utime) + of(usage.ru_stime);
}

struct OneSheet : window::Program {
    screens::SheetView shown;
    screens::SheetView view(screens::PictureSpace) override { return shown; }
    void act(screens::Intent const&) override {}
    window::Settings settings() override
    {
        window::Settings settings;
        settings.sound = false; // a due reading would open the loudspeaker, whose thread is not idle
        return settings;
    }
    std::optional<double> wake_in_s() override { return std::nullopt; }
    bool wants_quit() override { return false; }
};

screens::SheetView long_list(int rows)
{
    screens::SheetView view;
    view.list.emplace();
    view.list->heading = "Jobs";
    for (int i = 0; i < rows; ++i) {
        screens::ListRow row;
        row.id = std::to_string(i);
        row.title = "AF-Q07-" + row.id;
        row.detail = "Alder Ferry  Q07  KD-41, job number " + row.id;
        row.side = "sealed";
        row.mark = screens::Mark::pass;
        view.list->rows.push_back(row);
    }
    return view;
}

/// The report of an import: each row with its own reason.
screens::SheetView long_table(int rows)
{
    screens::SheetView view;
    view.table.emplace();
    view.table->heading = "What became of every row";
    view.table->columns = {{"Line", 0.6, true}, {"Profile", 1.0}, {"What became of it", 1.1}, {"Why", 3.0}};
    for (int i = 0; i < rows; ++i) {
        auto const line = std::to_string(i + 2);
        view.table->rows.push_back({"line." + line,
                                    {line, "lt-" + line, "taken as a draft, open: 29",
                                     "Not given yet: Gas mass on the nameplate, Leak limit, of row " + line},
                                    screens::Mark::undecided});
    }
    return view;
}

void frame_times(char const* name, window::Loop& loop, std::function<void(int)> const& change = {})
{
    constexpr int frames = 120;
    std::vector<double> times;
    double const cpu = cpu_ms();
    for (int i = 0; i < frames; ++i) {
        if (change)
            change(i);
        loop.redraw();
        auto const start = Clock::now();
        loop.frame();
        glFinish();
        times.push_back(ms_since(start));
    }
    std::sort(times.begin(), times.end());
    std::printf("frame %-13s median %6.2f ms   p95 %6.2f ms   processor %6.2f ms\n", name, times[frames / 2],
                times[frames * 95 / 100], (cpu_ms() - cpu) / frames);
}

} // namespace

int main()
{
    auto const start = Clock::now();
    window::WindowOptions options;
    options.dpi = 149.5;
    if (std::getenv("DISPLAY") == nullptr)
        options.driver = "offscreen";
    OneSheet program;
    auto surface = window::Surface::open(options);
    if (!surface) {
        std::fprintf(stderr, "%s\n", surface.error().detail.c_str());
        return 1;
    }
    double const window_ms = ms_since(start);
    SDL_GL_SetSwapInterval(0); // the time to draw, not the display's own pace
    program.shown = demo::sheets().front().make({85.0, 68.0});
    window::Loop loop(program, **surface);
    loop.frame();
    glFinish();
    std::printf("start to first frame %6.1f ms, of which the window %6.1f ms   processor %6.1f ms\n",
                ms_since(start), window_ms, cpu_ms());
    for (auto const& sheet : demo::sheets()) {
        program.shown = sheet.make({85.0, 68.0});
        frame_times(sheet.name.c_str(), loop);
    }
    program.shown = long_list(10000);
    frame_times("10000 rows", loop);
    // The same with all rows to be measured, since one says something else than in the frame before.
    frame_times("rows measured", loop,
                [&](int frame) { program.shown.list->rows.back().side = "sealed " + std::to_string(frame); });
    // An import shows its report in parts of 200; the whole is here to tell why.
    for (int const rows : {200, 10000}) {
        program.shown = long_table(rows);
        frame_times(rows == 200 ? "report, part" : "report, all", loop);
    }
    program.shown = demo::sheets().front().make({85.0, 68.0});
    loop.redraw();
    while (loop.frame())
        continue;
    glFinish();
    // What the window system said while the frames above were drawn is no part of idling.
    auto const settle = [&] {
        SDL_Event said;
        while (SDL_PollEvent(&said) == 1)
            loop.handle(said);
        while (loop.frame())
            continue;
        glFinish();
    };
    settle();
    SDL_Delay(500); // the software renderer's threads end what they were given
    settle();
    double const cpu = cpu_ms();
    auto const idle = Clock::now();
    SDL_Event event;
    constexpr double idle_ms = 10'000.0;
    int events = 0, frames = 0;
    while (ms_since(idle) < idle_ms)
        if (SDL_WaitEventTimeout(&event, static_cast<int>(idle_ms - ms_since(idle)) + 1) == 1) {
            ++events;
            loop.handle(event);
            frames += loop.frame() ? 1 : 0;
        }
    bool const blocks = std::strcmp(SDL_GetCurrentVideoDriver(), "x11") == 0 ||
                        std::strcmp(SDL_GetCurrentVideoDriver(), "wayland") == 0;
    std::printf("idle %.0f s, driver %s: %.3f %% of one core, %d events, %d frames%s\n", ms_since(idle) / 1e3,
                SDL_GetCurrentVideoDriver(), 100.0 * (cpu_ms() - cpu) / ms_since(idle), events, frames,
                blocks ? "" : " (this driver cannot wait: SDL itself looks a thousand times a second)");
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("memory at most %ld MiB\n", usage.ru_maxrss / 1024);
    return 0;
}
