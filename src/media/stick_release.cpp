#include "media/stick_release.h"
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/mount.h>
#include <unistd.h>

namespace isochore::media {

Result<Released> release_stick(disk::Path const& mount_point)
{
    int const folder = ::open(mount_point.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0)
        return fail(Error::Code::not_found, mount_point.string(), "the stick is not there any more");
    bool const synced = ::syncfs(folder) == 0 && (::fsync(folder) == 0 || errno == EINVAL);
    int const why = errno;
    ::close(folder);
    if (!synced)
        return fail(
            Error::Code::io, mount_point.string(),
            fmt::format("the stick did not take everything ({}); verify it before use", std::strerror(why)));
    if (::umount2(mount_point.c_str(), UMOUNT_NOFOLLOW) == 0)
        return Released{true, "The stick is unmounted; it can be pulled."};
    if (errno == EBUSY)
        return fail(Error::Code::denied, mount_point.string(),
                    "another program still uses the stick; close it, then try again");
    return Released{false, "Everything is written. Eject the stick in the file manager before pulling it."};
}

} // namespace isochore::media
