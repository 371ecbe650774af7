#include "disk/whole_file.h"
#include "journal/copy.h"
#include "journal/store.h"
#include <cerrno>
#include <fmt/format.h>

namespace isochore::journal {
namespace {

using Code = Error::Code;

Result<void> remove_leftovers(disk::Disk& disk, disk::Path const& unfinished)
{
    for (char const* ending : {"-journal", "-wal", ""}) {
        disk::Path file = unfinished;
        file += ending;
        if (disk.exists(file))
            if (auto removed = disk.remove(file); !removed)
                return removed;
    }
    return {};
}

// Made whole under another name first: journal.db is complete from the moment it has its name.
Result<void> create_store(disk::Path const& folder, StoreBase base)
{
    disk::Path const unfinished = folder / "journal.new", final = folder / "journal.db";
    if (auto removed = remove_leftovers(base.disk, unfinished); !removed)
        return removed;
    disk::Path wal = final;
    wal += "-wal";
    if (base.disk.exists(wal))
        return fail(Code::corrupt, final.string(),
                    final.string() +
                        " is missing, yet its journal.db-wal with the last entries is there: put "
                        "journal.db back");
    {
        auto database = Database::open(unfinished, Database::Mode::create, base.vfs);
        if (!database)
            return hand_up(database);
        if (auto done = database->run("PRAGMA synchronous=FULL"); !done)
            return done;
        if (auto done = create_schema(*database, *base.schema); !done)
            return done;
    }
    if (auto done = base.disk.flush_file(unfinished); !done)
        return done;
    if (auto done = base.disk.rename(unfinished, final); !done)
        return done;
    return base.disk.flush_directory(folder);
}

/// What befell an update of the journal, said so that nobody takes it for a fault of the entries.
tl::unexpected<Error> not_updated(Error error, std::string detail)
{
    error.detail = std::move(detail) + " The journal is as it was.";
    return tl::unexpected<Error>(std::move(error));
}

Result<void> migrate_after_copy(Database& database, disk::Path const& folder, StoreBase base, int version)
{
    std::string const stem = "journal-version-" + std::to_string(version);
    disk::Path copy = folder / (stem + ".db");
    for (int i = 2; base.disk.exists(copy); ++i) // of a migration that was cut off
        copy = folder / (stem + "-" + std::to_string(i) + ".db");
    if (auto copied = copy_store(database, copy, base); !copied)
        return not_updated(copied.error(),
                           fmt::format("the journal is old and could not be copied before its update: {}.",
                                       copied.error().detail));
    if (auto done = migrate(database, *base.schema, version); !done)
        return not_updated(done.error(), fmt::format("the journal is old and could not be updated: {}.",
                                                     done.error().detail));
    return {};
}

Result<void> check_and_set_up(Database& database, disk::Path const& folder, StoreBase base, bool writable)
{
    // Until the file is known to be ours and whole, closing must not change it.
    sqlite3_db_config(database.handle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    if (writable) // one process only: no shared memory beside the file, and fewer system calls
        if (auto done = database.run("PRAGMA locking_mode=EXCLUSIVE"); !done)
            return done;
    auto version = check_mark(database, *base.schema);
    if (!version)
        return hand_up(version);
    if (*version < base.schema->version) {
        if (!writable)
            return fail(Code::denied, folder.string(),
                        "the journal is of an older version and cannot be brought up to date: the folder is "
                        "read-only");
        if (auto done = migrate_after_copy(database, folder, base, *version); !done)
            return done;
    }
    if (auto done = check_parts(database, *base.schema); !done)
        return done;
    if (!writable)
        return {};
    auto mode = database.ask("PRAGMA journal_mode=WAL");
    if (!mode)
        return hand_up(mode);
    if (*mode != "wal")
        return fail(Code::io, database.file().string(),
                    "the journal's file system cannot hold a write-ahead log");
    sqlite3_db_config(database.handle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, nullptr);
    sqlite3_wal_autocheckpoint(database.handle(), base.checkpoint_pages);
    return database.run("PRAGMA synchronous=FULL; PRAGMA recursive_triggers=ON; PRAGMA foreign_keys=ON;"
                        "PRAGMA cell_size_check=ON; PRAGMA temp_store=MEMORY");
}

Result<Database> open_database(disk::Path const& folder, StoreBase base, bool writable)
{
    disk::Path const file = folder / "journal.db";
    bool const there = base.disk.exists(file);
    if (writable && !there)
        if (auto created = create_store(folder, base); !created)
            return hand_up(created);
    if (writable && there)
        if (auto removed = remove_leftovers(base.disk, folder / "journal.new"); !removed)
            return hand_up(removed);
    if (writable)
        return Database::open(file, Database::Mode::existing, base.vfs);
    if (!there)
        return fail(Code::denied, folder.string(),
                    "no journal is in " + folder.string() + " and none can be made");
    disk::Path wal = file;
    wal += "-wal";
    if (auto const left = base.disk.read(wal, std::size_t{1} << 31); left && !left->empty()) {
        // Where the whole disk is read-only nobody can be writing, and the last entries are read as they
        // are. A folder that only this user may not write could be in use.
        if (!base.vfs && why_not_writable(file) == EROFS)
            return Database::open(file, Database::Mode::immutable_with_log, base.vfs);
        return fail(Code::denied, folder.string(),
                    "the last entries in journal.db-wal cannot be read while " + folder.string() +
                        " is read-only: copy the folder to a disk that can be written");
    }
    return Database::open(file, Database::Mode::immutable, base.vfs);
}

} // namespace

Result<std::unique_ptr<Journal>> open_store(disk::Path const& folder, StoreBase base, FileLock lock,
                                            std::string read_only_because)
{
    bool const writable = read_only_because.empty();
    // The folder's own name, too, must outlive a power cut. A parent that may not be opened is somebody
    // else's and was there before us.
    if (writable)
        if (auto flushed = base.disk.flush_directory(disk::folder_of(folder));
            !flushed && flushed.error().code != Code::denied)
            return hand_up(flushed);
    auto database = open_database(folder, base, writable);
    if (!database)
        return hand_up(database);
    if (auto done = check_and_set_up(*database, folder, base, writable); !done)
        return hand_up(done);
    return make_store(folder, base, std::move(*database), std::move(lock), std::move(read_only_because));
}

Result<std::unique_ptr<Journal>> open_journal(disk::Path const& folder)
{
    static std::unique_ptr<disk::Disk> const disk = disk::system_disk();
    if (auto made = disk->make_directory(folder); !made)
        return hand_up(made);
    auto lock = FileLock::take(folder / "journal.lock");
    if (!lock && lock.error().code == Code::denied) // read-only: still worth reading
        return open_store(folder, {*disk}, FileLock(), "the folder " + folder.string() + " is read-only");
    if (!lock)
        return hand_up(lock);
    if (!lock->held())
        return fail(Code::denied, folder.string(),
                    "another Isochore has the journal in " + folder.string() +
                        " open: go on in that window, or close it first");
    return open_store(folder, {*disk}, std::move(*lock), {});
}

} // namespace isochore::journal
