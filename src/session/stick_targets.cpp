#include "session/stick_targets.h"
#include <fmt/format.h>

namespace isochore::session {

std::string size_text(std::uint64_t bytes)
{
    double const mb = static_cast<double>(bytes) / 1e6;
    return mb >= 1000.0 ? fmt::format("{:.1f} GB", mb / 1000.0) : fmt::format("{:.0f} MB", mb);
}

std::optional<std::vector<media::UsbDevice>> usb_devices()
{
    auto const watch = media::UsbWatch::start();
    if (!watch)
        return std::nullopt;
    auto devices = (*watch)->storage_devices();
    return devices ? std::optional(std::move(*devices)) : std::nullopt;
}

StickLook::StickLook(View view, bool with_usb) : m_view(std::move(view))
{
    if (with_usb)
        if (auto watch = media::UsbWatch::start())
            m_watch = std::move(*watch);
}

bool StickLook::changed()
{
    bool const plugged = m_watch && m_watch->changed();
    auto const view = m_view();
    return plugged ||
           (view && (view->mountinfo != m_mounts || media::read_block_devices(view->sysfs) != m_disks));
}

media::StickSearch StickLook::look()
{
    auto const view = m_view();
    if (!view) {
        media::StickSearch none;
        none.notes.push_back(view.error().detail);
        return none;
    }
    m_mounts = view->mountinfo;
    m_disks = media::read_block_devices(view->sysfs); // before they are shown: what comes after is a change
    std::optional<std::vector<media::UsbDevice>> usb;
    if (m_watch)
        if (auto devices = m_watch->storage_devices())
            usb = std::move(*devices);
    return media::find_sticks(*view, usb);
}

std::vector<StickTarget> stick_targets()
{
    std::vector<StickTarget> list;
    auto const view = media::SystemView::of_this_machine();
    if (!view)
        return list;
    auto const found = media::find_sticks(*view, usb_devices());
    for (auto const& t : found.targets) {
        bool const ready = t.use == media::StickTarget::Use::ready;
        std::string detail =
            ready ? fmt::format("{}, {} free", t.folder.string(), size_text(t.space.free)) : t.why;
        for (auto const& warning : t.warnings)
            detail += ". " + warning;
        list.push_back({t.folder.string(), t.name(), detail, ready ? std::string() : "not usable", ready});
    }
    for (auto const& note : found.notes)
        list.push_back({"note", note, {}, {}, false});
    return list;
}

} // namespace isochore::session
