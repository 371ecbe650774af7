#pragma once
#include "screens/views.h"
#include <optional>
#include <string>

namespace isochore::window {

/// What the person chose for this tablet.
struct Settings {
    std::string theme = "print";
    bool sound = true; ///< a reading that is due is called out
    std::optional<double> dpi; ///< dots an inch; overrides what the display says
};

/// What a window shows and whom it tells. The application is one; tests bring their own.
class Program {
public:
    virtual ~Program() = default;
    /// The sheet as it is now, with a picture drawn to the space given.
    virtual screens::SheetView view(screens::PictureSpace space) = 0;
    /// The person did something. Returns when it is done or under way elsewhere; never waits for a device.
    virtual void act(screens::Intent const& intent) = 0;
    virtual Settings settings() = 0;
    /// Seconds until the sheet changes by itself (a clock, a countdown); nothing when it does not.
    virtual std::optional<double> wake_in_s() = 0;
    virtual bool wants_quit() = 0;
    /// A rehearsal lets the program's own clock run on by so many seconds without waiting for them.
    virtual void pass_time(double seconds) { static_cast<void>(seconds); }
    /// A rehearsal sets the program's wall clock on or back by so many seconds, while no time passes.
    virtual void set_clock(double seconds) { static_cast<void>(seconds); }
};

} // namespace isochore::window
