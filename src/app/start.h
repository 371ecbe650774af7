#pragma once
#include "session/workspace.h"
#include <string>

namespace isochore::app {

/// How to start: where things are and how the window looks.
struct StartOptions {
    session::Folders folders;
    disk::Path text_folder;
    int width = 1280, height = 800;
    double dpi = 0.0;
    std::string theme; ///< overrides the settings
    bool demo = false; ///< begin (or go on with) the demo outage
    /// Rehearsals only: the stick under OUT/stick is pulled while its n-th file is written, and put in again when
    /// the script lets time pass.
    int pull_stick = 0;
};

/// Opens the window and runs until it is closed. Returns the exit code.
int start_window(StartOptions const& options);

/// Drives the window by a script with a clock that stands still between its commands, in a store of its own
/// under `out`, so that the same script leaves the same record. Returns the exit code.
int start_rehearsal(StartOptions options, disk::Path const& script, disk::Path const& out, bool offscreen);

/// Makes the people and the outage of the demo in an empty store; harmless in one that has outages.
/// The demo's names are invented; its supervisor's PIN is printed where the demo is started.
struct DemoPerson {
    char const* name;
    char const* pin;
};
inline constexpr DemoPerson demo_supervisor{"R. Marsh", "274185"};
[[nodiscard]] Result<std::unique_ptr<session::Outage>> begin_demo(session::Workspace& workspace);

} // namespace isochore::app
