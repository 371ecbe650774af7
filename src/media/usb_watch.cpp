#include "media/usb_watch.h"
#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <libusb.h>

namespace isochore::media {
namespace {

using Code = Error::Code;

tl::unexpected<Error> refused(char const* doing, int status)
{
    return fail(Code::device, "USB", fmt::format("{}: {}", doing, libusb_error_name(status)));
}

/// Called from within event handling, where nothing may be asked of libusb: it only leaves a mark.
int LIBUSB_CALL note_event(libusb_context*, libusb_device*, libusb_hotplug_event, void* user)
{
    *static_cast<bool*>(user) = true;
    return 0;
}

/// "1-2.3" for bus 1, ports 2 and 3: the name sysfs gives it. Empty for a root hub.
std::string place_of(libusb_device* device)
{
    std::array<std::uint8_t, 8> ports{};
    int const depth = libusb_get_port_numbers(device, ports.data(), static_cast<int>(ports.size()));
    if (depth <= 0)
        return {};
    std::string place = fmt::format("{}-", libusb_get_bus_number(device));
    for (int i = 0; i < depth; ++i)
        place += fmt::format("{}{}", i ? "." : "", ports[static_cast<std::size_t>(i)]);
    return place;
}

/// The class stands on the interface; the device's own class is 0 for nearly every stick.
bool is_storage(libusb_device* device)
{
    libusb_config_descriptor* config = nullptr;
    if (libusb_get_active_config_descriptor(device, &config) != 0)
        return false;
    bool found = false;
    for (int i = 0; i < config->bNumInterfaces; ++i)
        for (int k = 0; k < config->interface[i].num_altsetting; ++k)
            found |= config->interface[i].altsetting[k].bInterfaceClass == LIBUSB_CLASS_MASS_STORAGE;
    libusb_free_config_descriptor(config);
    return found;
}

} // namespace

struct UsbWatch::Parts {
    libusb_context* context = nullptr;
    libusb_hotplug_callback_handle callback = 0;
    bool registered = false;
    bool event = false;

    Parts() = default;
    Parts(Parts const&) = delete;
    Parts& operator=(Parts const&) = delete;
    ~Parts()
    {
        if (registered)
            libusb_hotplug_deregister_callback(context, callback);
        if (context)
            libusb_exit(context);
    }
};

UsbWatch::UsbWatch(std::unique_ptr<Parts> parts) : m_parts(std::move(parts)) {}
UsbWatch::~UsbWatch() = default;

Result<std::unique_ptr<UsbWatch>> UsbWatch::start()
{
    auto parts = std::make_unique<Parts>();
    if (int const status = libusb_init(&parts->context); status != 0) {
        parts->context = nullptr;
        return refused("USB cannot be watched", status);
    }
    if (!libusb_has_capability(LIBUSB_CAP_HAS_HOTPLUG))
        return fail(Code::device, "USB", "this system tells no USB events");
    int const status = libusb_hotplug_register_callback(
        parts->context, LIBUSB_HOTPLUG_EVENT_DEVICE_ARRIVED | LIBUSB_HOTPLUG_EVENT_DEVICE_LEFT,
        LIBUSB_HOTPLUG_NO_FLAGS, LIBUSB_HOTPLUG_MATCH_ANY, LIBUSB_HOTPLUG_MATCH_ANY, LIBUSB_HOTPLUG_MATCH_ANY,
        note_event, &parts->event, &parts->callback);
    if (status != 0)
        return refused("USB cannot be watched", status);
    parts->registered = true;
    return std::unique_ptr<UsbWatch>(new UsbWatch(std::move(parts)));
}

bool UsbWatch::changed()
{
    timeval now{0, 0};
    libusb_handle_events_timeout_completed(m_parts->context, &now, nullptr);
    return std::exchange(m_parts->event, false);
}

Result<std::vector<UsbDevice>> UsbWatch::storage_devices() const
{
    libusb_device** list = nullptr;
    auto const count = libusb_get_device_list(m_parts->context, &list);
    if (count < 0)
        return refused("USB devices cannot be listed", static_cast<int>(count));
    std::vector<UsbDevice> devices;
    for (auto i = 0; i < count; ++i) {
        libusb_device_descriptor about{};
        auto const place = place_of(list[i]);
        if (place.empty() || libusb_get_device_descriptor(list[i], &about) != 0 || !is_storage(list[i]))
            continue;
        devices.push_back({place, about.idVendor, about.idProduct, {}, {}, {}});
    }
    libusb_free_device_list(list, 1);
    std::sort(devices.begin(), devices.end(), [](auto const& a, auto const& b) { return a.place < b.place; });
    return devices;
}

} // namespace isochore::media
