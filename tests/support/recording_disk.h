#pragma once
#include "disk/disk.h"
#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <vector>

namespace isochore::test {

/// A disk in memory that writes down every operation, so that explore_crashes() can rebuild what a power
/// cut at any moment may leave. What it shows while running is what a process sees: everything written.
class RecordingDisk : public disk::Disk {
public:
    using Path = disk::Path;

    /// Empty but for the root folder "/".
    RecordingDisk();

    Result<void> create(Path const& file, std::string_view bytes) override;
    Result<void> flush_file(Path const& file) override;
    Result<void> flush_directory(Path const& directory) override;
    Result<void> rename(Path const& from, Path const& to) override;
    Result<void> remove(Path const& file) override;
    Result<void> make_directory(Path const& directory) override;
    Result<void> remove_directory(Path const& directory) override;
    Result<std::string> read(Path const& file, std::size_t limit) override;
    Result<std::string> read_uncached(Path const& file, std::size_t limit) override;
    Result<std::vector<Item>> list(Path const& directory) override;
    bool exists(Path const& path) override;

    /// Notes that a promise was made to a person just now ("saved"): a crash later must not break it.
    void confirm(std::string promise);
    /// Takes all there is as durable and forgets the operations so far.
    void settle();

    // The same disk for code that writes inside files (the SQLite file layer of the crash tests).
    using Node = int;
    Node open_or_create(Path const& file); ///< an existing file, or a new empty one
    std::string const& bytes(Node node) const { return m_nodes.at(node); }
    void write_at(Node node, std::size_t offset, std::string_view bytes);
    void truncate(Node node, std::size_t size);
    void flush_node(Node node);

    struct Operation {
        enum class Kind { write, truncate, flush_node, link, unlink, flush_directory, confirm };
        Kind kind;
        Node node = 0;
        std::size_t offset = 0; ///< write: where; truncate: the new size
        std::string bytes{};    ///< write: what; confirm: the promise
        std::string path{};     ///< link, unlink, flush_directory
        bool with_next = false; ///< the first half of a rename: the unlink follows
    };
    [[nodiscard]] std::vector<Operation> const& operations() const { return m_operations; }
    /// Files by path, as a process sees them.
    [[nodiscard]] std::map<std::string, std::string> contents() const;

private:
    friend class CrashReplay;
    static constexpr Node directory_node = -1;

    void record(Operation operation) { m_operations.push_back(std::move(operation)); }
    Node find(Path const& path) const; ///< 0 when absent

    std::map<std::string, Node> m_names;
    std::map<Node, std::string> m_nodes;
    std::map<std::string, Node> m_start_names; ///< at the last settle()
    std::map<Node, std::string> m_start_nodes;
    Node m_next_node = 1;
    std::vector<Operation> m_operations;
};

/// How adversarial the disk is. Names and data may be lost or kept in any combination unless flushed.
struct CrashModel {
    bool atomic_rename = true;         ///< false: FAT, where both or neither name may be left
    std::size_t states_per_point = 64; ///< all subsets where there are fewer, else a seeded sample
    std::size_t sector_bytes = 512;    ///< what reaches the medium whole or not at all
    std::size_t most_pieces = 8;       ///< a longer write arrives in so many pieces of whole sectors
    unsigned seed = 1;
};

struct CrashCount {
    std::size_t points = 0;
    std::size_t states = 0; ///< different states checked
};

/// Rebuilds the states a crash after each recorded operation may leave and hands each to `check` with the
/// promises made by then. `check` gets a disk of its own and may write to it.
CrashCount
explore_crashes(RecordingDisk const& recorded, CrashModel model,
                std::function<void(RecordingDisk& after, std::vector<std::string> const& promises)> check);

} // namespace isochore::test
