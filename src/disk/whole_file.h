#pragma once
#include "disk/disk.h"

namespace isochore::disk {

enum class Access { shared, owner_only };

/// Writes a file that is either whole under its name or not there: made as "NAME.part", flushed, read back
/// past the cache and compared, renamed, the folder flushed. When this returns the file is durable.
/// Errors: denied (the name exists; nothing is overwritten), corrupt (what was read back differs), io.
[[nodiscard]] Result<void> write_whole(Disk& disk, Path const& file, std::string_view bytes,
                                       Access access = Access::shared);

} // namespace isochore::disk
