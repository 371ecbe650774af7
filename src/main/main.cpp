#include "app/start.h"
#include "cli/command_line.h"

namespace {

isochore::app::StartOptions start_options(isochore::cli::WindowCommands::Options const& o)
{
    isochore::app::StartOptions start;
    start.folders = o.places.folders();
    start.text_folder = o.places.share_folder() / "assets/text";
    start.width = o.width;
    start.height = o.height;
    start.dpi = o.dpi;
    start.theme = o.theme;
    start.demo = o.demo;
    start.pull_stick = o.pull_stick;
    return start;
}

} // namespace

int main(int argc, char** argv)
{
    isochore::cli::WindowCommands windows;
    windows.window = [](auto const& o) { return isochore::app::start_window(start_options(o)); };
    windows.rehearse = [](auto const& o) {
        return isochore::app::start_rehearsal(start_options(o), o.script, o.out, o.offscreen);
    };
    return isochore::cli::run_command_line(argc, argv, windows);
}
