#pragma once
#include "media/stick_finder.h"
#include "media/usb_watch.h"
#include <functional>

namespace isochore::session {

/// The USB mass-storage devices libusb knows now; nothing where libusb cannot be used.
[[nodiscard]] std::optional<std::vector<media::UsbDevice>> usb_devices();

/// One place files can be written to, as a row of a list.
struct StickTarget {
    std::string path, title, detail, side;
    bool usable = true; ///< false: shown, with why not
};
/// Removable media mounted now, and why others are refused.
[[nodiscard]] std::vector<StickTarget> stick_targets();

/// Keeps looking for sticks while a sheet about them is open: through libusb where it can be used, else by
/// the mounted volumes alone.
class StickLook {
public:
    using View = std::function<Result<media::SystemView>()>;
    explicit StickLook(View view = media::SystemView::of_this_machine, bool with_usb = true);

    /// Without waiting: whether a stick came or went, or a volume was mounted or put away, since the last
    /// look.
    [[nodiscard]] bool changed();
    [[nodiscard]] media::StickSearch look();

private:
    View m_view;
    std::unique_ptr<media::UsbWatch> m_watch; ///< none: libusb cannot be used here
    std::string m_mounts;                     ///< as they were at the last look
};

/// "15.9 GB", "512 MB": sticks are sold in powers of ten.
[[nodiscard]] std::string size_text(std::uint64_t bytes);

} // namespace isochore::session
