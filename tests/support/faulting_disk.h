#pragma once
#include "disk/disk.h"

namespace isochore::test {

/// What goes wrong at the n-th call.
enum class Fault {
    full,        ///< ENOSPC, nothing written
    short_write, ///< ENOSPC after half of the bytes, which stay in the file
    broken,      ///< EIO
    read_only,   ///< EROFS from then on for everything that writes: errors=remount-ro
};

/// Passes calls on to another disk and fails the n-th (from 1). With `lasting`, all later calls that write
/// fail too. n = 0 never fails: calls() then tells how many there are to try.
class FaultingDisk : public disk::Disk {
public:
    using Path = disk::Path;
    FaultingDisk(disk::Disk& below, int nth, Fault fault, bool lasting = false)
        : m_below(below), m_nth(nth), m_fault(fault), m_lasting(lasting || fault == Fault::read_only)
    {
    }
    [[nodiscard]] int calls() const { return m_calls; }
    [[nodiscard]] bool failed() const { return m_failed; } ///< whether the fault was met

    Result<void> create(Path const& file, std::string_view bytes) override;
    Result<void> create_private(Path const& file, std::string_view bytes) override;
    Result<void> flush_file(Path const& file) override;
    Result<void> flush_directory(Path const& directory) override;
    Result<void> rename(Path const& from, Path const& to) override;
    Result<void> remove(Path const& file) override;
    Result<void> make_directory(Path const& directory) override;
    Result<void> remove_directory(Path const& directory) override;
    Result<std::string> read(Path const& file, std::size_t limit) override;
    Result<std::string> read_uncached(Path const& file, std::size_t limit) override;
    Result<std::vector<Item>> list(Path const& directory) override;
    bool exists(Path const& path) override { return m_below.exists(path); } // asks nothing that can fail

private:
    [[nodiscard]] bool due(bool writes);
    [[nodiscard]] tl::unexpected<Error> error(char const* doing, Path const& path) const;

    disk::Disk& m_below;
    int m_nth;
    Fault m_fault;
    bool m_lasting;
    int m_calls = 0;
    bool m_failed = false;
};

} // namespace isochore::test
