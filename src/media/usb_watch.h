#pragma once
#include "media/stick_finder.h"
#include "quantity/result.h"
#include <memory>
#include <vector>

namespace isochore::media {

/// Watches USB for mass-storage devices through libusb: for events and identity only. A device is never
/// opened, claimed or detached; its data belongs to the kernel's own driver.
class UsbWatch {
public:
    /// Errors: device, where libusb cannot start or knows no hotplug events; find_sticks works without.
    [[nodiscard]] static Result<std::unique_ptr<UsbWatch>> start();
    UsbWatch(UsbWatch const&) = delete;
    UsbWatch& operator=(UsbWatch const&) = delete;
    ~UsbWatch();

    /// Takes up waiting events without blocking. True when a device came or went since the last call: then
    /// it is time to look again (arrivals may be told twice, and removals of devices never told).
    [[nodiscard]] bool changed();

    /// Devices with an interface of class 08h in their active configuration, by place.
    [[nodiscard]] Result<std::vector<UsbDevice>> storage_devices() const;

private:
    struct Parts;
    explicit UsbWatch(std::unique_ptr<Parts> parts);
    std::unique_ptr<Parts> m_parts;
};

} // namespace isochore::media
