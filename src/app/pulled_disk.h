#pragma once
#include "disk/forwarding_disk.h"
#include <atomic>

namespace isochore::app {

/// For rehearsals: the system's disk, but a stick that is pulled while its n-th file is written. From then on
/// everything under its folder fails, as it does when a stick is gone, until it is put in again.
class PulledDisk final : public disk::ForwardingDisk {
public:
    using Path = disk::Path;
    /// `nth` 0: never.
    PulledDisk(disk::Disk& below, Path stick, int nth)
        : ForwardingDisk(below), m_stick(std::move(stick)), m_left(nth), m_armed(nth > 0)
    {
    }
    void put_in_again() { m_gone = false; }
    bool exists(Path const& path) override { return !gone(path) && ForwardingDisk::exists(path); }

protected:
    Result<void> refuse(Call call, Path const& path) override
    {
        if (call == Call::create && m_armed && on_stick(path) && --m_left == 0) {
            m_armed = false;
            m_gone = true;
        }
        if (gone(path))
            return fail(Error::Code::device, path.string(), "the stick is not there any more");
        return {};
    }

private:
    [[nodiscard]] bool on_stick(Path const& path) const
    {
        return path.string().starts_with(m_stick.string());
    }
    [[nodiscard]] bool gone(Path const& path) const { return m_gone && on_stick(path); }

    Path m_stick;
    int m_left;
    bool m_armed;
    std::atomic<bool> m_gone{false}; ///< set beside the window, taken back by its thread
};

} // namespace isochore::app
