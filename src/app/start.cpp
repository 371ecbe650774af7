#include "app/start.h"
#include "app/controller.h"
#include "app/opening.h"
#include "app/page_step.h"
#include "app/pages.h"
#include "app/pulled_disk.h"
#include "quantity/error_words.h"
#include "report/type.h"
#include "window/loop.h"
#include "window/rehearsal.h"
#include <iostream>
#include <utility>

namespace isochore::app {
namespace {

/// 08:00 on a working day in spring; any moment would do, but it must be the same every time.
constexpr std::int64_t rehearsal_start_ms = 1772438400000; // 2026-03-02T08:00:00Z

int say(Error const& error)
{
    std::cerr << place_and_detail(error) << '\n';
    return 2;
}

window::WindowOptions window_options(StartOptions const& o)
{
    window::WindowOptions w;
    w.width = o.width;
    w.height = o.height;
    w.dpi = o.dpi;
    return w;
}

Settings chosen_settings(StartOptions const& o, disk::Disk& disk)
{
    std::string problem;
    Settings settings = load_settings(disk, o.folders.data, problem);
    if (!problem.empty())
        std::cerr << problem << " (left as it is; the usual settings are used)\n";
    if (!o.theme.empty())
        settings.theme = o.theme;
    return settings;
}

/// The sheet shown when the store does not open speaks the person's language too, where that can be read.
Words chosen_words(StartOptions const& o, Settings const& settings, disk::Disk& disk)
{
    Words words;
    if (settings.language != "en")
        if (auto const loaded = words.load(disk, o.text_folder, settings.language); !loaded)
            say(loaded.error());
    return words;
}

Result<void> open_demo(session::Workspace& workspace, Controller& controller)
{
    auto outage = begin_demo(workspace);
    if (!outage) {
        // An outage that is damaged is no reason to show none: the list stays, and says so when it is opened.
        auto const there = workspace.journal().job_names();
        if (outage.error().code == Error::Code::corrupt && there && !there->empty())
            return {};
        return tl::unexpected(outage.error());
    }
    bool const fresh = (*outage)->state().entries <= 1;
    controller.desk().outage = std::move(*outage);
    if (fresh)
        controller.open(std::make_unique<StepPage>());
    else
        controller.open(std::make_unique<ResumePage>());
    return {};
}

} // namespace

int start_window(StartOptions const& o)
{
    auto const disk = disk::system_disk();
    session::SystemClock clock;
    report::Type type;
    Settings const settings = chosen_settings(o, *disk);
    std::unique_ptr<session::Workspace> workspace; // outlives the controller, which holds it
    bool told = false;
    auto const open = [&]() -> Result<std::unique_ptr<Controller>> {
        workspace.reset(); // what a try before this one opened is locked by it
        auto opened = session::Workspace::open(o.folders, clock, *disk);
        if (!opened)
            return tl::unexpected(opened.error());
        workspace = std::move(*opened);
        auto controller = std::make_unique<Controller>(*workspace, o.text_folder, type.measure(), settings);
        if (!o.demo)
            return controller;
        if (!std::exchange(told, true))
            std::cout << "Demo outage. The supervisor who signs is " << demo_supervisor.name << ", PIN "
                      << demo_supervisor.pin << ". Everything in it is invented.\n";
        if (auto const begun = open_demo(*workspace, *controller); !begun)
            return tl::unexpected(begun.error());
        return controller;
    };
    Opening program(open, settings, chosen_words(o, settings, *disk));
    if (program.error())
        say(*program.error());
    int const code = window::run_window(program, window_options(o));
    return program.error() ? 2 : code;
}

int start_rehearsal(StartOptions o, disk::Path const& script, disk::Path const& out, bool offscreen)
{
    auto const disk = disk::system_disk();
    auto const text = disk->read(script, 1u << 22);
    if (!text)
        return say(text.error());
    o.folders.data = out / "store";
    for (auto const& folder : {out, o.folders.data, out / "stick"})
        if (auto const made = disk->make_directory(folder); !made)
            return say(made.error());
    session::SetClock clock(rehearsal_start_ms);
    PulledDisk stick_disk(*disk, out / "stick", o.pull_stick);
    report::Type type;
    Settings const settings = chosen_settings(o, *disk);
    std::unique_ptr<session::Workspace> workspace;
    auto const open = [&]() -> Result<std::unique_ptr<Controller>> {
        workspace.reset();
        auto opened = session::Workspace::open(o.folders, clock, stick_disk);
        if (!opened)
            return tl::unexpected(opened.error());
        workspace = std::move(*opened);
        auto controller = std::make_unique<Controller>(*workspace, o.text_folder, type.measure(), settings);
        if (auto const begun = open_demo(*workspace, *controller); !begun)
            return tl::unexpected(begun.error());
        return controller;
    };
    Opening program(open, settings, chosen_words(o, settings, *disk));
    program.on_clock(
        [&clock, &stick_disk](double seconds) {
            clock.advance(seconds);
            stick_disk.put_in_again();
        },
        [&clock](double seconds) {
            clock.set_wall(clock.now().utc_ms + static_cast<std::int64_t>(seconds * 1000.0));
        });
    // A script that begins with the store's fault is about it; any other needs the store.
    if (program.error())
        std::cout << "The store does not open: " << program.error()->detail << '\n';
    window::WindowOptions options = window_options(o);
    options.dpi = o.dpi > 0.0 ? o.dpi : 150.0;
    if (offscreen)
        options.driver = "offscreen";
    // A script cannot know where its output goes: @OUT@ stands for it.
    std::string script_text = *text;
    for (std::size_t at = script_text.find("@OUT@"); at != std::string::npos;
         at = script_text.find("@OUT@", at))
        script_text.replace(at, 5, out.string());
    auto const report = window::run_rehearsal(program, script_text, options, out);
    if (!report) {
        std::cerr << script.string() << ": ";
        return say(report.error());
    }
    for (auto const& line : report->logged)
        std::cout << line << '\n';
    std::cout << report->commands << " commands, " << report->frames << " frames, " << report->shots.size()
              << " screenshots in " << out.string() << '\n';
    return 0;
}

} // namespace isochore::app
