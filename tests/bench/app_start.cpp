// How long the program takes from an opened store to its first frame, with an empty store and with one of
// 10,000 outages (or as many as the first argument says). Prints figures, decides nothing.
#include "app/controller.h"
#include "disk/disk.h"
#include "report/type.h"
#include "session/workspace.h"
#include "window/loop.h"
#include <SDL.h>
#include <SDL_opengl.h>
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <string>
#include <vector>

using namespace isochore;
namespace fs = std::filesystem;

namespace {

using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start)
{
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

[[noreturn]] void stop(Error const& error)
{
    std::fprintf(stderr, "%s: %s\n", error.where.c_str(), error.detail.c_str());
    std::exit(1);
}

session::Folders folders(fs::path const& data)
{
    fs::path const root = ISOCHORE_SOURCE_DIR;
    return {data, root / "checklists", root / "profiles"};
}

/// Invented outages, each begun and no more: what a tablet of many years has beside those under way.
void fill_store(fs::path const& data, int count)
{
    auto const disk = disk::system_disk();
    session::SystemClock clock;
    auto workspace = session::Workspace::open(folders(data), clock, *disk);
    if (!workspace)
        stop(workspace.error());
    for (int i = 0; i < count; ++i) {
        session::NewOutage setup;
        setup.facts = {{"station", fmt::format("Invented {}", i % 300)},
                       {"bay", fmt::format("Q{:02}", i % 40)},
                       {"serial", fmt::format("41-{:05}", i)},
                       {"job_no", fmt::format("IN-{:05}", i)},
                       {"window", "240 min"}};
        setup.crew = {"N. Quill", "I. Brandt"};
        setup.who = "N. Quill";
        if (auto begun = (*workspace)->begin("kd-41", setup); !begun)
            stop(begun.error());
    }
}

struct Start {
    double store = 0.0, controller = 0.0, window = 0.0, frame = 0.0;
    [[nodiscard]] double all() const { return store + controller + window + frame; }
};

Start start_once(fs::path const& data)
{
    Start t;
    auto at = Clock::now();
    auto const lap = [&] {
        double const ms = ms_since(at);
        at = Clock::now();
        return ms;
    };
    auto const disk = disk::system_disk();
    session::SystemClock clock;
    auto workspace = session::Workspace::open(folders(data), clock, *disk);
    if (!workspace)
        stop(workspace.error());
    t.store = lap();
    report::Type type;
    app::Controller controller(**workspace, fs::path(ISOCHORE_SOURCE_DIR) / "assets/text", type.measure(),
                               {});
    t.controller = lap();
    window::WindowOptions options;
    options.dpi = 149.5;
    if (std::getenv("DISPLAY") == nullptr)
        options.driver = "offscreen";
    auto surface = window::Surface::open(options);
    if (!surface)
        stop(surface.error());
    t.window = lap();
    window::Loop loop(controller, **surface);
    loop.frame();
    glFinish();
    t.frame = lap();
    return t;
}

void report_start(char const* name, fs::path const& data)
{
    std::vector<Start> runs;
    for (int i = 0; i < 7; ++i)
        runs.push_back(start_once(data));
    std::sort(runs.begin(), runs.end(), [](Start const& a, Start const& b) { return a.all() < b.all(); });
    Start const& m = runs[runs.size() / 2];
    std::printf("%-16s first frame after %6.1f ms: store %5.1f, program %5.1f, window %5.1f, frame %5.1f "
                "(fastest %5.1f)\n",
                name, m.all(), m.store, m.controller, m.window, m.frame, runs.front().all());
}

} // namespace

int main(int argc, char** argv)
{
    int const count = argc > 1 ? std::atoi(argv[1]) : 10'000;
    fs::path const root =
        fs::temp_directory_path() / fmt::format("isochore-start-{}", Clock::now().time_since_epoch().count());
    fs::create_directories(root / "empty");
    fs::create_directories(root / "full");
    auto const begun = Clock::now();
    fill_store(root / "full", count);
    std::printf("%d outages begun in %.1f s\n", count, ms_since(begun) / 1e3);
    report_start("empty store", root / "empty");
    report_start(fmt::format("{} outages", count).c_str(), root / "full");
    fs::remove_all(root);
    return 0;
}
