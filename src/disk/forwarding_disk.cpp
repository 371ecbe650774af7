#include "disk/forwarding_disk.h"

namespace isochore::disk {

bool writes(ForwardingDisk::Call call)
{
    return call != ForwardingDisk::Call::read && call != ForwardingDisk::Call::list;
}

Result<void> ForwardingDisk::refuse(Call, Path const&)
{
    return {};
}

Result<void> ForwardingDisk::create(Path const& file, std::string_view bytes)
{
    return refuse(Call::create, file).and_then([&] { return m_below.create(file, bytes); });
}

Result<void> ForwardingDisk::create_private(Path const& file, std::string_view bytes)
{
    return refuse(Call::create, file).and_then([&] { return m_below.create_private(file, bytes); });
}

Result<void> ForwardingDisk::flush_file(Path const& file)
{
    return refuse(Call::flush_file, file).and_then([&] { return m_below.flush_file(file); });
}

Result<void> ForwardingDisk::flush_directory(Path const& directory)
{
    return refuse(Call::flush_directory, directory).and_then([&] {
        return m_below.flush_directory(directory);
    });
}

Result<void> ForwardingDisk::flush_folder(Path const& directory)
{
    return refuse(Call::flush_directory, directory).and_then([&] { return m_below.flush_folder(directory); });
}

Result<void> ForwardingDisk::rename(Path const& from, Path const& to)
{
    return refuse(Call::rename, to).and_then([&] { return m_below.rename(from, to); });
}

Result<void> ForwardingDisk::remove(Path const& file)
{
    return refuse(Call::remove, file).and_then([&] { return m_below.remove(file); });
}

Result<void> ForwardingDisk::make_directory(Path const& directory)
{
    return refuse(Call::make_directory, directory).and_then([&] { return m_below.make_directory(directory); });
}

Result<void> ForwardingDisk::remove_directory(Path const& directory)
{
    return refuse(Call::remove_directory, directory).and_then([&] {
        return m_below.remove_directory(directory);
    });
}

Result<std::string> ForwardingDisk::read(Path const& file, std::size_t limit)
{
    return refuse(Call::read, file).and_then([&] { return m_below.read(file, limit); });
}

Result<std::string> ForwardingDisk::read_uncached(Path const& file, std::size_t limit)
{
    return refuse(Call::read, file).and_then([&] { return m_below.read_uncached(file, limit); });
}

Result<std::vector<Disk::Item>> ForwardingDisk::list(Path const& directory)
{
    return refuse(Call::list, directory).and_then([&] { return m_below.list(directory); });
}

} // namespace isochore::disk
