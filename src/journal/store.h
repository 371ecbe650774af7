#pragma once
#include "journal/journal.h"
#include "journal/lock.h"
#include "journal/schema.h"

namespace isochore::journal {

/// What the store stands on; tests bring their own disk, SQLite file layer and schema.
struct StoreBase {
    disk::Disk& disk;
    char const* vfs = nullptr; ///< null: the system's
    Schema const* schema = &current_schema();
    int checkpoint_pages = 1000; ///< pages in the log before they are carried over: 4 MiB
};

/// Opens or creates the store, without the lock: the caller holds it. `read_only_because` is not empty when
/// the folder cannot be written; the store then only reads.
[[nodiscard]] Result<std::unique_ptr<Journal>> open_store(disk::Path const& folder, StoreBase base,
                                                          FileLock lock, std::string read_only_because);

/// The store on a connection that was checked and set up.
[[nodiscard]] Result<std::unique_ptr<Journal>> make_store(disk::Path const& folder, StoreBase base,
                                                          Database database, FileLock lock,
                                                          std::string read_only_because);

} // namespace isochore::journal
