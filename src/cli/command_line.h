#pragma once
#include "cli/commands.h"
#include <functional>

namespace isochore::cli {

/// What needs a window is passed in: this layer knows none.
struct WindowCommands {
    struct Options {
        Places places;
        std::string script, out; ///< rehearse
        int width = 1280, height = 800;
        bool offscreen = false, demo = false;
        std::string theme;
        double dpi = 0.0;
        int pull_stick = 0; ///< rehearse: pulls the stick at the n-th file
    };
    std::function<int(Options const&)> window;   ///< opens the window
    std::function<int(Options const&)> rehearse; ///< drives it by a script
};

/// Reads the command line and runs one command. Returns the exit code.
int run_command_line(int argc, char const* const* argv, WindowCommands const& windows);

} // namespace isochore::cli
