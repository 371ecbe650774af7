#pragma once
#include "journal/store.h"

namespace isochore::journal {

/// Writes a whole copy of a store to a file that must not exist, as one file without WAL, verifies it, and
/// gives it its name only then.
[[nodiscard]] Result<void> copy_store(Database& source, disk::Path const& file, StoreBase base);

/// SQLite's integrity check, every chain, the global order and every kept text.
[[nodiscard]] Result<void> verify_store(Database& database);

} // namespace isochore::journal
