#pragma once
#include "quantity/result.h"
#include "window/program.h"
#include "window/surface.h"
#include <filesystem>
#include <string>
#include <vector>

namespace isochore::window {

/// A rehearsal drives the true window through SDL's event queue, as fingers would, and looks at what is
/// drawn. Every sheet that comes to rest is held against screens/sheet_rules.h; faults fail the rehearsal at
/// its end. One command a line; `#` starts a comment; words after the first two belong to the last one.
///
///   tap ID               lifts a finger on the element, dragging it into view first
///   hold ID              rests a finger on it until its act is done
///   drag ID DX DY        drags from its middle by millimetres and stops before lifting
///   fling ID DX DY       the same, lifted while moving
///   draw ID              draws a stroke across a pad
///   type TEXT            taps the keys of the keypad or keyboard on the sheet
///   scan TEXT            types as a keyboard or a scanner does, then Enter
///   press KEY            enter, cancel, backspace, clear on a real keyboard
///   expect ID TEXT       the element is there and its words contain TEXT (which may be left out)
///   expect-no ID         there is no such element
///   expect-enabled ID    expect-disabled ID
///   shot FILE.png        writes what is seen into the output folder
///   log ID               puts the element's words into the report
///   texts FILE           from here on, what settled sheets say is written there, a line each: where, tab, text
///   size W H             pixels of the window
///   dpi N                dots an inch
///   theme NAME           print, blueprint, plain
///   finger  |  mouse     how taps are made from here on
///   chimes N             a due reading was called out so many times since this was last asked
///   later SECONDS        lets the program's clocks run on without waiting
///   clock SECONDS        sets its wall clock on or back, as a person or a network does; no time passes
///   wait SECONDS         lets real time pass, drawing what changes
///   await ID TEXT        waits, a minute at most, until `expect ID TEXT` would pass
///   await-no ID          the same until `expect-no ID` would pass
struct RehearsalCommand {
    int line = 0;
    std::string verb, id, rest;
};

/// invalid_input names the line and what is wrong with it.
[[nodiscard]] Result<std::vector<RehearsalCommand>> parse_rehearsal(std::string const& script);

struct RehearsalReport {
    int commands = 0, frames = 0;
    std::vector<std::string> shots;  ///< files written
    std::vector<std::string> logged; ///< "ID: words", in order
};

/// Runs a script. The first thing that is not as expected ends it: the error names the line and the elements
/// whose names come near.
[[nodiscard]] Result<RehearsalReport> run_rehearsal(Program& program, std::string const& script,
                                                    WindowOptions options,
                                                    std::filesystem::path const& output);

} // namespace isochore::window
