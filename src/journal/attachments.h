#pragma once
#include "disk/disk.h"
#include <string>
#include <string_view>

namespace isochore::journal {

/// Photos and other files, each kept once under its SHA-256 in a folder beside the store. Entries carry the
/// hash only, so that no photo, however large or broken, can get in the way of an entry.
class Attachments {
public:
    /// The largest file taken; one photo of a tablet's camera has some 10 MB.
    static constexpr std::size_t most_bytes = 64u << 20;

    /// `folder` is the store's; the files go to "attachments" in it.
    Attachments(disk::Disk& disk, disk::Path const& folder);

    /// Keeps bytes; durable when it returns. Known bytes are not written again. Returns the SHA-256.
    /// A damaged file in its place is put aside under another name, never removed. Errors: invalid_input
    /// (too large), io, denied.
    [[nodiscard]] Result<std::string> keep(std::string_view bytes);
    /// Keeps a copy of a file from elsewhere (the camera's folder).
    [[nodiscard]] Result<std::string> keep_file(disk::Path const& source);
    /// The bytes, held against their hash. Errors: not_found, corrupt, invalid_input (no hash).
    [[nodiscard]] Result<std::string> read(std::string_view hash);
    [[nodiscard]] bool has(std::string_view hash);
    [[nodiscard]] disk::Path path_of(std::string_view hash) const;

private:
    [[nodiscard]] Result<void> put_aside(disk::Path const& damaged);

    disk::Disk& m_disk;
    disk::Path m_folder;
};

} // namespace isochore::journal
