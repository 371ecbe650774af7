#pragma once
#include "disk/forwarding_disk.h"

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
class FaultingDisk : public disk::ForwardingDisk {
public:
    using Path = disk::Path;
    FaultingDisk(disk::Disk& below, int nth, Fault fault, bool lasting = false)
        : ForwardingDisk(below), m_nth(nth), m_fault(fault), m_lasting(lasting || fault == Fault::read_only)
    {
    }
    [[nodiscard]] int calls() const { return m_calls; }
    [[nodiscard]] bool failed() const { return m_failed; } ///< whether the fault was met

    Result<void> create(Path const& file, std::string_view bytes) override;
    Result<void> create_private(Path const& file, std::string_view bytes) override;
    /// One file after the other, so that each flush can be the one that fails.
    Result<void> flush_folder(Path const& directory) override { return Disk::flush_folder(directory); }

protected:
    Result<void> refuse(Call call, Path const& path) override;

private:
    int m_nth;
    Fault m_fault;
    bool m_lasting;
    int m_calls = 0;
    bool m_failed = false;
    bool m_now = false; ///< the last call met the fault
};

} // namespace isochore::test
