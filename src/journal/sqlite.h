#pragma once
#include "disk/disk.h"
#include "quantity/result.h"
#include <cstdint>
#include <memory>
#include <sqlite3.h>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::journal {

/// A prepared statement, kept for the life of the connection and reset after each use.
class Statement {
public:
    Statement() = default;
    explicit Statement(sqlite3_stmt* statement) : m_statement(statement, &sqlite3_finalize) {}

    /// Binds from the left; texts must outlive the run.
    void bind(int index, std::int64_t value) { sqlite3_bind_int64(m_statement.get(), index, value); }
    void bind(int index, std::string_view text)
    {
        sqlite3_bind_text64(m_statement.get(), index, text.data(), text.size(), SQLITE_STATIC, SQLITE_UTF8);
    }
    /// SQLITE_ROW, SQLITE_DONE or a fault.
    int step() { return sqlite3_step(m_statement.get()); }
    void reset()
    {
        sqlite3_reset(m_statement.get());
        sqlite3_clear_bindings(m_statement.get());
    }
    [[nodiscard]] std::int64_t whole(int column) const
    {
        return sqlite3_column_int64(m_statement.get(), column);
    }
    [[nodiscard]] std::string text(int column) const
    {
        auto const* const bytes =
            reinterpret_cast<char const*>(sqlite3_column_text(m_statement.get(), column));
        return bytes ? std::string(bytes,
                                   static_cast<std::size_t>(sqlite3_column_bytes(m_statement.get(), column)))
                     : std::string();
    }
    [[nodiscard]] bool is_null(int column) const
    {
        return sqlite3_column_type(m_statement.get(), column) == SQLITE_NULL;
    }

private:
    std::unique_ptr<sqlite3_stmt, int (*)(sqlite3_stmt*)> m_statement{nullptr, &sqlite3_finalize};
};

/// Resets a statement when the block that runs it ends, however it ends.
class Run {
public:
    explicit Run(Statement& statement) : m_statement(statement) {}
    Run(Run const&) = delete;
    Run& operator=(Run const&) = delete;
    ~Run() { m_statement.reset(); }

private:
    Statement& m_statement;
};

/// One SQLite connection. Faults become Errors in words that name the file.
class Database {
public:
    /// `immutable` reads a file nobody writes; `immutable_with_log` reads the log beside it as well.
    enum class Mode { existing, create, immutable, immutable_with_log };

    /// `vfs` is null for the system's.
    [[nodiscard]] static Result<Database> open(disk::Path const& file, Mode mode, char const* vfs);

    [[nodiscard]] Result<void> run(char const* sql); ///< statements without results
    [[nodiscard]] Result<Statement> prepare(char const* sql);
    /// First column of the first row of a query that always has one.
    [[nodiscard]] Result<std::string> ask(char const* sql);
    [[nodiscard]] Result<std::int64_t> ask_whole(char const* sql);
    /// The last fault of the connection, as an Error. `doing` as in "write", "read".
    [[nodiscard]] Error fault(std::string_view doing) const;
    [[nodiscard]] sqlite3* handle() const { return m_handle.get(); }
    [[nodiscard]] disk::Path const& file() const { return m_file; }

private:
    Database(sqlite3* handle, disk::Path file);

    std::unique_ptr<sqlite3, int (*)(sqlite3*)> m_handle;
    disk::Path m_file;
};

/// Shorthand to hand an error up.
template <class T> [[nodiscard]] tl::unexpected<Error> hand_up(Result<T>& failed)
{
    return tl::unexpected<Error>(std::move(failed.error()));
}

} // namespace isochore::journal
