#pragma once
#include "journal/sqlite.h"
#include <span>

namespace isochore::journal {

/// One table, index or trigger; the text must be what SQLite stores, so that it can be compared.
struct SchemaPart {
    char const* name;
    char const* sql;
};

/// The step from version `from` to the next, run inside one transaction.
struct Migration {
    int from;
    char const* sql;
};

/// What a store of one version looks like and how older ones get there. Tests bring their own.
struct Schema {
    int version;
    std::span<SchemaPart const> parts;
    std::span<Migration const> migrations;
};

[[nodiscard]] Schema const& current_schema();

/// "Isoc" in SQLite's application_id: marks the file as ours.
inline constexpr std::int64_t application_id = 0x49736f63;

/// Creates all parts, the mark and the version, in one transaction.
[[nodiscard]] Result<void> create_schema(Database& database, Schema const& schema);

/// Errors: corrupt when the file has another mark, lacks a part, or has one that was changed (a trigger
/// taken away to alter history); denied when a newer program made it. Returns the version.
[[nodiscard]] Result<int> check_mark(Database& database, Schema const& schema);
[[nodiscard]] Result<void> check_parts(Database& database, Schema const& schema);

/// Brings an older store to the schema's version in one transaction. The caller has made a verified copy.
[[nodiscard]] Result<void> migrate(Database& database, Schema const& schema, int version);

} // namespace isochore::journal
