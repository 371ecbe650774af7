#pragma once
#include "disk/disk.h"
#include "quantity/result.h"
#include "json/value.h"
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::journal {

/// One entry as stored. `body` is canonical JSON (RFC 8785) and holds "job", "n", "prev" (hash of the entry
/// before it in the same job, 64 zeros for the first) beside what the session wrote; `hash` is its SHA-256.
struct Entry {
    std::string job;
    std::int64_t n = 0;
    std::string body;
    std::string hash;
    [[nodiscard]] Json json() const; ///< the body parsed
};

/// First and last entry of a job: enough for a list of jobs.
struct JobHead {
    std::string job;
    Entry first, last;
};

/// The append-only store of all outages: one SQLite file, WAL, synchronous=FULL, one connection, triggers
/// against update, delete and replace, recursive_triggers=ON, a lock on a file beside it for the life of the
/// object. For one thread.
class Journal {
public:
    virtual ~Journal() = default;

    /// Adds one entry in one transaction; when this returns, it is on the disk.
    /// `body` must not contain "job", "n" or "prev". Errors: io (disk full, read-only: said in words),
    /// denied.
    [[nodiscard]] virtual Result<Entry> append(std::string_view job, Json body) = 0;
    [[nodiscard]] virtual Result<std::vector<Entry>> entries(std::string_view job) = 0;
    /// All jobs, the latest touched first. Names that begin with "@" (people, library) are left out.
    [[nodiscard]] virtual Result<std::vector<JobHead>> jobs() = 0;
    /// Their names only, in the same order: for a long list that is read a page at a time.
    [[nodiscard]] virtual Result<std::vector<std::string>> job_names() = 0;
    /// First and last entry of one job. Errors: not_found.
    [[nodiscard]] virtual Result<JobHead> head(std::string_view job) = 0;
    /// Texts an entry refers to by hash (checklists, profiles): kept once, never changed. Returns the
    /// SHA-256.
    [[nodiscard]] virtual Result<std::string> keep(std::string_view text) = 0;
    [[nodiscard]] virtual Result<std::string> kept(std::string_view hash) = 0;
    /// Recomputes the chain of one job. Errors: corrupt, naming the entry.
    [[nodiscard]] virtual Result<void> verify(std::string_view job) = 0;
    /// Verifies the next `entries` entries, in the order written over all jobs, against the chains: for idle
    /// moments of the thread that owns the journal, so that a start need not wait. Returns how many are left
    /// that were not verified since the journal was opened. Errors: corrupt, naming the entry; the same
    /// error again when asked again.
    [[nodiscard]] virtual Result<std::int64_t> verify_some(std::int64_t entries) = 0;
    /// SQLite's integrity check and every chain; slow, meant for a background thread with its own read
    /// of a backup or for the command line.
    [[nodiscard]] virtual Result<void> verify_all() = 0;
    /// A whole, consistent copy by the SQLite backup API, verified.
    [[nodiscard]] virtual Result<void> export_to(disk::Path const& file) = 0;
    /// Why nothing can be written ("the disk is full", "the folder is read-only"); empty when writing works.
    [[nodiscard]] virtual std::string why_read_only() = 0;
};

/// Opens (or creates) the store in a folder: journal.db, journal.lock.
/// Errors: denied when another process holds the lock; corrupt when the file is not a journal or is
/// damaged (it is left exactly as it is); io.
[[nodiscard]] Result<std::unique_ptr<Journal>> open_journal(disk::Path const& folder);

} // namespace isochore::journal
