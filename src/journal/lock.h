#pragma once
#include "disk/disk.h"

namespace isochore::journal {

/// A lock on a file for the life of the object. The kernel drops it when the process ends, however it ends;
/// a second object in the same process is refused too.
class FileLock {
public:
    FileLock() = default; ///< holds nothing
    /// Not held() when somebody else has it. Errors: denied when the folder is read-only; io.
    [[nodiscard]] static Result<FileLock> take(disk::Path const& file);
    FileLock(FileLock&& other) noexcept;
    FileLock& operator=(FileLock&& other) noexcept;
    ~FileLock();
    [[nodiscard]] bool held() const { return m_fd >= 0; }

private:
    explicit FileLock(int fd) : m_fd(fd) {}
    int m_fd = -1;
};

} // namespace isochore::journal
