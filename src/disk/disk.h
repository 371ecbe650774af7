#pragma once
#include "quantity/result.h"
#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::disk {

using Path = std::filesystem::path;

/// The few file operations everything that must survive a crash is built from. The real one calls the
/// system; tests give one that records, one that fails at the n-th call and one that forgets what was not
/// flushed. No other code of journal, media or report touches files it writes.
class Disk {
public:
    virtual ~Disk() = default;
    /// Creates a file that must not exist yet and writes all bytes; not yet durable.
    [[nodiscard]] virtual Result<void> create(Path const& file, std::string_view bytes) = 0;
    /// As create, readable by its owner only (mode 0600): for keys. A disk without owners just creates.
    [[nodiscard]] virtual Result<void> create_private(Path const& file, std::string_view bytes)
    {
        return create(file, bytes);
    }
    /// Makes a file's contents durable (fsync).
    [[nodiscard]] virtual Result<void> flush_file(Path const& file) = 0;
    /// Makes the names in a directory durable (fsync of the directory).
    [[nodiscard]] virtual Result<void> flush_directory(Path const& directory) = 0;
    /// Makes all files directly in a directory and their names durable. The system's disk does it in one go,
    /// which on a stick with a thousand files takes a tenth of the time; any other flushes one by one.
    [[nodiscard]] virtual Result<void> flush_folder(Path const& directory);
    /// Renames; an existing target is an error (sticks: FAT rename is not crash-atomic, so never overwrite).
    [[nodiscard]] virtual Result<void> rename(Path const& from, Path const& to) = 0;
    [[nodiscard]] virtual Result<void> remove(Path const& file) = 0;
    [[nodiscard]] virtual Result<void> make_directory(Path const& directory) = 0;   ///< existing is fine
    [[nodiscard]] virtual Result<void> remove_directory(Path const& directory) = 0; ///< must be empty
    /// Whole contents, through the page cache, at most `limit` bytes; more is an error. Symlinks refused.
    [[nodiscard]] virtual Result<std::string> read(Path const& file, std::size_t limit) = 0;
    /// Whole contents past the page cache as far as the system allows.
    [[nodiscard]] virtual Result<std::string> read_uncached(Path const& file, std::size_t limit) = 0;
    struct Item {
        std::string name;
        bool directory = false;
        bool regular = false;
        std::uint64_t size = 0;
    };
    /// Names in a directory, sorted.
    [[nodiscard]] virtual Result<std::vector<Item>> list(Path const& directory) = 0;
    [[nodiscard]] virtual bool exists(Path const& path) = 0;
};

/// The disk of the system.
[[nodiscard]] std::unique_ptr<Disk> system_disk();

} // namespace isochore::disk
