#include "journal/copy.h"
#include "disk/whole_file.h"
#include "journal/chain.h"
#include "json/read.h"
#include <optional>

namespace isochore::journal {
namespace {

Result<void> back_up(Database& source, Database& target)
{
    sqlite3_backup* const backup = sqlite3_backup_init(target.handle(), "main", source.handle(), "main");
    if (!backup)
        return tl::unexpected<Error>(target.fault("write"));
    sqlite3_backup_step(backup, -1);
    if (sqlite3_backup_finish(backup) != SQLITE_OK)
        return tl::unexpected<Error>(target.fault("write"));
    return {};
}

// A copy is one file that any reader opens: no WAL beside it.
Result<void> write_copy(Database& source, disk::Path const& file, char const* vfs)
{
    auto target = Database::open(file, Database::Mode::create, vfs);
    if (!target)
        return hand_up(target);
    if (auto done = target->run("PRAGMA locking_mode=EXCLUSIVE; PRAGMA synchronous=FULL"); !done)
        return done;
    if (auto done = back_up(source, *target); !done)
        return done;
    auto mode = target->ask("PRAGMA journal_mode=DELETE");
    if (!mode)
        return hand_up(mode);
    auto count = source.ask_whole("SELECT COALESCE(MAX(seq), 0) FROM entry");
    auto copied = target->ask_whole("SELECT COALESCE(MAX(seq), 0) FROM entry");
    if (!count || !copied || *count != *copied)
        return fail(Error::Code::io, file.string(),
                    "the copy " + file.string() + " does not hold all entries");
    return verify_store(*target);
}

Result<void> verify_chains(Database& database)
{
    auto query =
        database.prepare("SELECT j.name, e.n, e.body, e.hash FROM entry e JOIN job j ON j.id = e.job "
                         "ORDER BY e.job, e.n");
    if (!query)
        return hand_up(query);
    std::optional<ChainCheck> chain;
    std::string job;
    int code = query->step();
    for (; code == SQLITE_ROW; code = query->step()) {
        Entry const entry{query->text(0), query->whole(1), query->text(2), query->text(3)};
        if (!chain || entry.job != job) {
            job = entry.job;
            chain.emplace(job);
        }
        if (auto good = chain->next(entry); !good)
            return good;
    }
    if (code != SQLITE_DONE)
        return tl::unexpected<Error>(database.fault("read"));
    return {};
}

Result<void> verify_kept(Database& database)
{
    auto query = database.prepare("SELECT hash, text FROM kept");
    if (!query)
        return hand_up(query);
    int code = query->step();
    for (; code == SQLITE_ROW; code = query->step())
        if (sha256_hex(query->text(1)) != query->text(0))
            return fail(Error::Code::corrupt, database.file().string(),
                        "the kept text " + query->text(0) + " does not match its hash");
    if (code != SQLITE_DONE)
        return tl::unexpected<Error>(database.fault("read"));
    return {};
}

} // namespace

Result<void> copy_store(Database& source, disk::Path const& file, StoreBase base)
{
    if (base.disk.exists(file))
        return fail(Error::Code::denied, file.string(),
                    file.string() + " exists already and nothing is overwritten: choose another name");
    disk::Path part = file;
    part += ".part";
    for (char const* ending : {"", "-journal"}) {
        disk::Path left = part;
        left += ending;
        if (base.disk.exists(left)) // an earlier copy that was interrupted
            if (auto removed = base.disk.remove(left); !removed)
                return removed;
    }
    if (auto done = write_copy(source, part, base.vfs); !done) {
        static_cast<void>(base.disk.remove(part)); // the copy's own fault is the one to report
        return done;
    }
    if (auto done = base.disk.flush_file(part); !done)
        return done;
    if (auto done = base.disk.rename(part, file); !done)
        return done;
    return base.disk.flush_directory(disk::folder_of(file));
}

Result<void> verify_store(Database& database)
{
    auto integrity = database.ask("PRAGMA integrity_check(1)");
    if (!integrity)
        return hand_up(integrity);
    std::string const name = database.file().string();
    if (*integrity != "ok")
        return fail(Error::Code::corrupt, name, name + " is damaged: " + *integrity);
    auto foreign = database.prepare("PRAGMA foreign_key_check");
    if (!foreign)
        return hand_up(foreign);
    if (foreign->step() == SQLITE_ROW)
        return fail(Error::Code::corrupt, name, name + " holds an entry of no job");
    auto gap = database.ask_whole("SELECT COALESCE(MAX(seq), 0) - COUNT(*) FROM entry");
    if (!gap)
        return hand_up(gap);
    if (*gap != 0)
        return fail(Error::Code::corrupt, name,
                    "entries are missing from " + name + ": " + std::to_string(*gap));
    if (auto good = verify_chains(database); !good)
        return good;
    return verify_kept(database);
}

} // namespace isochore::journal
