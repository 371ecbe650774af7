#pragma once
#include "media/stick_finder.h"

namespace isochore::session {

/// One place a set can be written to.
struct StickTarget {
    std::string path, title, detail, side;
    bool usable = true; ///< false: shown, with why not
};

/// The USB mass-storage devices libusb knows now; nothing where libusb cannot be used.
[[nodiscard]] std::optional<std::vector<media::UsbDevice>> usb_devices();

/// Removable media mounted now, and why others are refused.
[[nodiscard]] std::vector<StickTarget> stick_targets();

} // namespace isochore::session
