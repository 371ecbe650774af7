#include "journal/lock.h"
#include "disk/words.h"
#include <cerrno>
#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>
#include <utility>

namespace isochore::journal {

int why_not_writable(disk::Path const& file)
{
    int const fd = ::open(file.c_str(), O_RDWR | O_CLOEXEC | O_NOFOLLOW);
    if (fd < 0)
        return errno;
    ::close(fd);
    return 0;
}

Result<FileLock> FileLock::take(disk::Path const& file)
{
    int const fd = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
    if (fd < 0)
        return tl::unexpected<Error>(disk::system_error(errno, "lock", file));
    FileLock lock(fd);
    int taken = ::flock(fd, LOCK_EX | LOCK_NB);
    while (taken != 0 && errno == EINTR)
        taken = ::flock(fd, LOCK_EX | LOCK_NB);
    if (taken == 0)
        return lock;
    if (errno == EWOULDBLOCK)
        return FileLock();
    return tl::unexpected<Error>(disk::system_error(errno, "lock", file));
}

FileLock::FileLock(FileLock&& other) noexcept : m_fd(std::exchange(other.m_fd, -1)) {}

FileLock& FileLock::operator=(FileLock&& other) noexcept
{
    std::swap(m_fd, other.m_fd);
    return *this;
}

FileLock::~FileLock()
{
    if (m_fd >= 0)
        ::close(m_fd);
}

} // namespace isochore::journal
