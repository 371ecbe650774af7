#pragma once
#include "disk/disk.h"

namespace isochore::disk {

/// The folder whose flush makes a name durable; "." for a bare name.
[[nodiscard]] Path folder_of(Path const& path);

enum class Access { shared, owner_only };

/// Writes a file that is either whole under its name or not there: made as "NAME.part", flushed, read back
/// past the cache and compared, renamed, the folder flushed. When this returns the file is durable.
/// Errors: denied (the name exists; nothing is overwritten), corrupt (what was read back differs), io.
[[nodiscard]] Result<void> write_whole(Disk& disk, Path const& file, std::string_view bytes,
                                       Access access = Access::shared);

/// As write_whole, for what may have been written before by a run that was cut off: a file there already
/// with the same bytes is made durable and counts as written. Errors: corrupt when it holds anything else.
[[nodiscard]] Result<void> keep_whole(Disk& disk, Path const& file, std::string_view bytes);

/// Makes a folder, existing is fine, and its name durable, also when an earlier run was cut off between the
/// two. The parent must be there.
[[nodiscard]] Result<void> make_durable_directory(Disk& disk, Path const& directory);

} // namespace isochore::disk
