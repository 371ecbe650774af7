#include "support/faulting_disk.h"
#include "disk/words.h"
#include <cerrno>

namespace isochore::test {
namespace {

/// The word the system's disk would use for what failed.
char const* doing(disk::ForwardingDisk::Call call)
{
    using Call = disk::ForwardingDisk::Call;
    switch (call) {
    case Call::create:
        return "write";
    case Call::flush_file:
    case Call::flush_directory:
        return "flush";
    case Call::rename:
        return "rename to";
    case Call::remove:
        return "remove";
    case Call::make_directory:
        return "make the folder";
    case Call::remove_directory:
        return "remove the folder";
    case Call::read:
        return "read";
    case Call::list:
        return "list";
    }
    return "use";
}

} // namespace

Result<void> FaultingDisk::refuse(Call call, Path const& path)
{
    ++m_calls;
    // A read meets no full or read-only disk: the fault waits for the next call that writes.
    bool const meets = disk::writes(call) || m_fault == Fault::broken;
    m_now = m_nth > 0 && meets && (m_failed ? m_lasting : m_calls >= m_nth);
    m_failed = m_failed || m_now;
    if (!m_now)
        return {};
    int const number = m_fault == Fault::broken ? EIO : m_fault == Fault::read_only ? EROFS : ENOSPC;
    return tl::unexpected<Error>(disk::system_error(number, doing(call), path));
}

Result<void> FaultingDisk::create(Path const& file, std::string_view bytes)
{
    auto created = ForwardingDisk::create(file, bytes);
    if (m_now && m_fault == Fault::short_write)
        static_cast<void>(below().create(file, bytes.substr(0, bytes.size() / 2)));
    return created;
}

Result<void> FaultingDisk::create_private(Path const& file, std::string_view bytes)
{
    auto created = ForwardingDisk::create_private(file, bytes);
    if (m_now && m_fault == Fault::short_write)
        static_cast<void>(below().create_private(file, bytes.substr(0, bytes.size() / 2)));
    return created;
}

} // namespace isochore::test
