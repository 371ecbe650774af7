#include "disk/whole_file.h"

namespace isochore::disk {
namespace {

Result<void> compare(Disk& disk, Path const& part, std::string_view bytes)
{
    auto const back = disk.read_uncached(part, bytes.size());
    if (!back)
        return tl::unexpected<Error>(back.error());
    if (*back != bytes)
        return fail(Error::Code::corrupt, part.string(),
                    part.string() + " does not read back as it was written: the disk is not to be trusted");
    return {};
}

Result<void> write_part(Disk& disk, Path const& part, std::string_view bytes, Access access)
{
    return (access == Access::owner_only ? disk.create_private(part, bytes) : disk.create(part, bytes))
        .and_then([&] { return disk.flush_file(part); })
        .and_then([&] { return compare(disk, part, bytes); });
}

} // namespace

Path folder_of(Path const& path)
{
    Path const name = path.has_filename() ? path : path.parent_path(); // "folder/" names the folder
    return name.has_parent_path() ? name.parent_path() : Path(".");
}

Result<void> write_whole(Disk& disk, Path const& file, std::string_view bytes, Access access)
{
    if (disk.exists(file))
        return fail(Error::Code::denied, file.string(),
                    file.string() + " exists already and nothing is overwritten: choose another name");
    Path part = file;
    part += ".part";
    if (disk.exists(part)) // of a write that was cut off
        if (auto removed = disk.remove(part); !removed)
            return removed;
    auto done = write_part(disk, part, bytes, access).and_then([&] { return disk.rename(part, file); });
    if (!done && disk.exists(part))
        static_cast<void>(disk.remove(part)); // the write's own fault is the one to report
    if (!done)
        return done;
    return disk.flush_directory(folder_of(file));
}

Result<void> keep_whole(Disk& disk, Path const& file, std::string_view bytes)
{
    if (!disk.exists(file))
        return write_whole(disk, file, bytes);
    auto const there = disk.read(file, bytes.size() + 1);
    if (!there && there.error().code != Error::Code::invalid_input) // too large is only another difference
        return tl::unexpected<Error>(there.error());
    if (!there || *there != bytes)
        return fail(Error::Code::corrupt, file.string(),
                    file.string() + " holds something else than it should; it is left as it is");
    return disk.flush_file(file).and_then([&] { return disk.flush_directory(folder_of(file)); });
}

Result<void> make_durable_directory(Disk& disk, Path const& directory)
{
    return disk.make_directory(directory).and_then(
        [&] { return disk.flush_directory(folder_of(directory)); });
}

} // namespace isochore::disk
