#include "disk/disk.h"

namespace isochore::disk {

Result<void> Disk::flush_folder(Path const& directory)
{
    auto const items = list(directory);
    if (!items)
        return tl::unexpected(items.error());
    for (auto const& item : *items)
        if (item.regular)
            if (auto const flushed = flush_file(directory / item.name); !flushed)
                return flushed;
    return flush_directory(directory);
}

} // namespace isochore::disk
