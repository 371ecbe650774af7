#pragma once
#include "disk/disk.h"
#include <atomic>

namespace isochore::app {

/// For rehearsals: the system's disk, but a stick that is pulled while its n-th file is written. From then on
/// everything under its folder fails, as it does when a stick is gone, until it is put in again.
class PulledDisk final : public disk::Disk {
public:
    using Path = disk::Path;
    /// `nth` 0: never.
    PulledDisk(disk::Disk& below, Path stick, int nth)
        : m_below(below), m_stick(std::move(stick)), m_left(nth), m_armed(nth > 0)
    {
    }
    void put_in_again() { m_gone = false; }

    Result<void> create(Path const& file, std::string_view bytes) override
    {
        if (m_armed && on_stick(file) && --m_left == 0) {
            m_armed = false;
            m_gone = true;
        }
        return gone(file) ? lost(file) : m_below.create(file, bytes);
    }
    Result<void> create_private(Path const& file, std::string_view bytes) override
    {
        return m_below.create_private(file, bytes);
    }
    Result<void> flush_file(Path const& file) override
    {
        return gone(file) ? lost(file) : m_below.flush_file(file);
    }
    Result<void> flush_directory(Path const& directory) override
    {
        return gone(directory) ? lost(directory) : m_below.flush_directory(directory);
    }
    Result<void> flush_folder(Path const& directory) override
    {
        return gone(directory) ? lost(directory) : m_below.flush_folder(directory);
    }
    Result<void> rename(Path const& from, Path const& to) override
    {
        return gone(from) ? lost(from) : m_below.rename(from, to);
    }
    Result<void> remove(Path const& file) override { return gone(file) ? lost(file) : m_below.remove(file); }
    Result<void> make_directory(Path const& directory) override
    {
        return gone(directory) ? lost(directory) : m_below.make_directory(directory);
    }
    Result<void> remove_directory(Path const& directory) override
    {
        return gone(directory) ? lost(directory) : m_below.remove_directory(directory);
    }
    Result<std::string> read(Path const& file, std::size_t limit) override
    {
        return gone(file) ? Result<std::string>(tl::unexpected(lost(file).error()))
                          : m_below.read(file, limit);
    }
    Result<std::string> read_uncached(Path const& file, std::size_t limit) override
    {
        return gone(file) ? Result<std::string>(tl::unexpected(lost(file).error()))
                          : m_below.read_uncached(file, limit);
    }
    Result<std::vector<Item>> list(Path const& directory) override
    {
        return gone(directory) ? Result<std::vector<Item>>(tl::unexpected(lost(directory).error()))
                               : m_below.list(directory);
    }
    bool exists(Path const& path) override { return !gone(path) && m_below.exists(path); }

private:
    [[nodiscard]] bool on_stick(Path const& path) const
    {
        return path.string().starts_with(m_stick.string());
    }
    [[nodiscard]] bool gone(Path const& path) const { return m_gone && on_stick(path); }
    static Result<void> lost(Path const& path)
    {
        return fail(Error::Code::device, path.string(), "the stick is not there any more");
    }

    disk::Disk& m_below;
    Path m_stick;
    int m_left;
    bool m_armed;
    std::atomic<bool> m_gone{false}; ///< set beside the window, taken back by its thread
};

} // namespace isochore::app
