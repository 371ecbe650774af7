#pragma once
#include "disk/disk.h"

namespace isochore::journal {

/// Whether a file that is there can be written, asked without writing: a system that finds its disk damaged
/// mounts it read-only without a word. 0 when it can; else the system's number, EROFS or EACCES. Not for a file
/// that SQLite has open: closing it would drop its locks.
[[nodiscard]] int why_not_writable(disk::Path const& file);

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
