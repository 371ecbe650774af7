#include "support/faulting_disk.h"
#include "disk/words.h"
#include <cerrno>

namespace isochore::test {

bool FaultingDisk::due(bool writes)
{
    ++m_calls;
    // A read meets no full or read-only disk: the fault waits for the next call that writes.
    bool const meets = writes || m_fault == Fault::broken;
    bool const now = m_nth > 0 && meets && (m_failed ? m_lasting : m_calls >= m_nth);
    m_failed = m_failed || now;
    return now;
}

tl::unexpected<Error> FaultingDisk::error(char const* doing, Path const& path) const
{
    int const number = m_fault == Fault::broken ? EIO : m_fault == Fault::read_only ? EROFS : ENOSPC;
    return tl::unexpected<Error>(disk::system_error(number, doing, path));
}

Result<void> FaultingDisk::create(Path const& file, std::string_view bytes)
{
    if (!due(true))
        return m_below.create(file, bytes);
    if (m_fault == Fault::short_write)
        static_cast<void>(m_below.create(file, bytes.substr(0, bytes.size() / 2)));
    return error("write", file);
}

Result<void> FaultingDisk::create_private(Path const& file, std::string_view bytes)
{
    if (!due(true))
        return m_below.create_private(file, bytes);
    if (m_fault == Fault::short_write)
        static_cast<void>(m_below.create_private(file, bytes.substr(0, bytes.size() / 2)));
    return error("write", file);
}

Result<void> FaultingDisk::flush_file(Path const& file)
{
    return due(true) ? error("flush", file) : m_below.flush_file(file);
}

Result<void> FaultingDisk::flush_directory(Path const& directory)
{
    return due(true) ? error("flush", directory) : m_below.flush_directory(directory);
}

Result<void> FaultingDisk::rename(Path const& from, Path const& to)
{
    return due(true) ? error("rename to", to) : m_below.rename(from, to);
}

Result<void> FaultingDisk::remove(Path const& file)
{
    return due(true) ? error("remove", file) : m_below.remove(file);
}

Result<void> FaultingDisk::make_directory(Path const& directory)
{
    return due(true) ? error("make the folder", directory) : m_below.make_directory(directory);
}

Result<void> FaultingDisk::remove_directory(Path const& directory)
{
    return due(true) ? error("remove the folder", directory) : m_below.remove_directory(directory);
}

Result<std::string> FaultingDisk::read(Path const& file, std::size_t limit)
{
    if (due(false))
        return error("read", file);
    return m_below.read(file, limit);
}

Result<std::string> FaultingDisk::read_uncached(Path const& file, std::size_t limit)
{
    if (due(false))
        return error("read", file);
    return m_below.read_uncached(file, limit);
}

Result<std::vector<disk::Disk::Item>> FaultingDisk::list(Path const& directory)
{
    if (due(false))
        return error("list", directory);
    return m_below.list(directory);
}

} // namespace isochore::test
