#pragma once
#include "media/block_devices.h"
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

/// Keeps looking for sticks while a sheet about them is open: by the events of libusb where it can be used,
/// and always by the disks and mounts the system shows. The disk of a stick appears some time after the event
/// of its plug, a card in a reader that stays plugged in has no event at all, and an event can be lost.
class StickLook {
public:
    using View = std::function<Result<media::SystemView>()>;
    explicit StickLook(View view = media::SystemView::of_this_machine, bool with_usb = true);

    /// Without waiting: whether a stick or its disk came or went, or a volume was mounted or put away, since
    /// the last look.
    [[nodiscard]] bool changed();
    [[nodiscard]] media::StickSearch look();

private:
    View m_view;
    std::unique_ptr<media::UsbWatch> m_watch; ///< none: libusb cannot be used here
    std::string m_mounts;                     ///< as they were at the last look
    std::vector<media::BlockDevice> m_disks;  ///< the same
};

/// "15.9 GB", "512 MB": sticks are sold in powers of ten.
[[nodiscard]] std::string size_text(std::uint64_t bytes);

} // namespace isochore::session
