#include "journal/sqlite.h"
#include "disk/words.h"

namespace isochore::journal {
namespace {

constexpr int patience_ms = 2000; // another tool may hold the file for a moment

// In a URI a path must not be taken for query or escape.
std::string uri_of(disk::Path const& file)
{
    static constexpr char hex[] = "0123456789ABCDEF";
    std::string out = "file:";
    for (char const c : file.string()) {
        auto const byte = static_cast<unsigned char>(c);
        if (c == '%' || c == '?' || c == '#')
            out.append("%") += {hex[byte >> 4], hex[byte & 15]};
        else
            out += c;
    }
    return out;
}

} // namespace

Database::Database(sqlite3* handle, disk::Path file)
    : m_handle(handle, &sqlite3_close_v2), m_file(std::move(file))
{
}

Result<Database> Database::open(disk::Path const& file, Mode mode, char const* vfs)
{
    int flags = SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE | SQLITE_OPEN_NOFOLLOW;
    std::string name = file.string();
    if (mode == Mode::immutable || mode == Mode::immutable_with_log) {
        flags |= SQLITE_OPEN_READONLY | SQLITE_OPEN_URI;
        name = uri_of(file) + (mode == Mode::immutable ? "?immutable=1" : "?mode=ro");
        // No lock can be taken on a disk that cannot be written, nor is one needed there.
        if (mode == Mode::immutable_with_log)
            vfs = "unix-none";
    } else {
        flags |= SQLITE_OPEN_READWRITE | (mode == Mode::create ? SQLITE_OPEN_CREATE : 0);
    }
    sqlite3* handle = nullptr;
    int const code = sqlite3_open_v2(name.c_str(), &handle, flags, vfs);
    Database database(handle, file);
    if (code != SQLITE_OK)
        return tl::unexpected<Error>(database.fault("open"));
    sqlite3_busy_timeout(handle, patience_ms);
    // The index of the log is kept in memory then, where it would else be a file beside it.
    if (mode == Mode::immutable_with_log)
        if (auto done = database.run("PRAGMA locking_mode=EXCLUSIVE"); !done)
            return hand_up(done);
    // A damaged or hostile file must not make SQLite run or believe what it holds.
    sqlite3_db_config(handle, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_db_config(handle, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    return database;
}

Result<void> Database::run(char const* sql)
{
    if (sqlite3_exec(handle(), sql, nullptr, nullptr, nullptr) != SQLITE_OK)
        return tl::unexpected<Error>(fault("use"));
    return {};
}

Result<Statement> Database::prepare(char const* sql)
{
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_prepare_v3(handle(), sql, -1, SQLITE_PREPARE_PERSISTENT, &statement, nullptr) != SQLITE_OK)
        return tl::unexpected<Error>(fault("use"));
    return Statement(statement);
}

Result<std::string> Database::ask(char const* sql)
{
    auto statement = prepare(sql);
    if (!statement)
        return hand_up(statement);
    int const code = statement->step();
    if (code == SQLITE_ROW)
        return statement->text(0);
    return tl::unexpected<Error>(fault("read"));
}

Result<std::int64_t> Database::ask_whole(char const* sql)
{
    auto statement = prepare(sql);
    if (!statement)
        return hand_up(statement);
    int const code = statement->step();
    if (code == SQLITE_ROW)
        return statement->whole(0);
    return tl::unexpected<Error>(fault("read"));
}

Error Database::fault(std::string_view doing) const
{
    using Code = Error::Code;
    std::string const where = m_file.string();
    std::string const what = "cannot " + std::string(doing) + " " + where + ": ";
    int const code = handle() ? sqlite3_extended_errcode(handle()) : SQLITE_NOMEM;
    int const system = handle() ? sqlite3_system_errno(handle()) : 0;
    switch (code & 0xff) {
    case SQLITE_FULL:
        return {Code::io, where, what + "the disk is full"};
    case SQLITE_READONLY:
        return {Code::denied, where, what + "the disk or file is read-only"};
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return {Code::denied, where, what + "another program is using it"};
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        return {Code::corrupt, where,
                where +
                    " is damaged or is not a journal; it is left as it is: keep it and go on from the last "
                    "export"};
    case SQLITE_IOERR:
    case SQLITE_CANTOPEN:
        if (system != 0)
            return disk::system_error(system, doing, m_file);
        return {Code::io, where, what + "the disk reported a fault"};
    default:
        return {Code::io, where, what + (handle() ? sqlite3_errmsg(handle()) : "out of memory")};
    }
}

} // namespace isochore::journal
