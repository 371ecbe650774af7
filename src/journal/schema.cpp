#include "journal/schema.h"
#include <map>

namespace isochore::journal {
namespace {

// `seq` runs over all jobs without gaps, `n` over one job. REPLACE deletes rows without firing delete
// triggers unless the connection asks for recursive triggers; the insert triggers hold whatever
// connection writes.
constexpr SchemaPart parts[] = {
    {"job", "CREATE TABLE job(id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT"},
    {"entry", "CREATE TABLE entry(seq INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job(id), "
              "n INTEGER NOT NULL, body TEXT NOT NULL, hash TEXT NOT NULL) STRICT"},
    {"entry_in_job", "CREATE UNIQUE INDEX entry_in_job ON entry(job, n)"},
    {"kept",
     "CREATE TABLE kept(id INTEGER PRIMARY KEY, hash TEXT NOT NULL UNIQUE, text TEXT NOT NULL) STRICT"},
    {"job_no_update", "CREATE TRIGGER job_no_update BEFORE UPDATE ON job "
                      "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
    {"job_no_delete", "CREATE TRIGGER job_no_delete BEFORE DELETE ON job "
                      "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
    {"job_no_replace", "CREATE TRIGGER job_no_replace BEFORE INSERT ON job "
                       "WHEN NEW.id IS NOT (SELECT COALESCE(MAX(id), 0) + 1 FROM job) "
                       "OR EXISTS (SELECT 1 FROM job WHERE name = NEW.name) "
                       "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
    {"entry_no_update", "CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry "
                        "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
    {"entry_no_delete", "CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry "
                        "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
    {"entry_no_replace", "CREATE TRIGGER entry_no_replace BEFORE INSERT ON entry "
                         "WHEN NEW.seq IS NOT (SELECT COALESCE(MAX(seq), 0) + 1 FROM entry) "
                         "OR NEW.n IS NOT (SELECT COALESCE(MAX(n), 0) + 1 FROM entry WHERE job = NEW.job) "
                         "BEGIN SELECT RAISE(ABORT, 'an entry only follows the last one'); END"},
    {"kept_no_update", "CREATE TRIGGER kept_no_update BEFORE UPDATE ON kept "
                       "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
    {"kept_no_delete", "CREATE TRIGGER kept_no_delete BEFORE DELETE ON kept "
                       "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
    {"kept_no_replace", "CREATE TRIGGER kept_no_replace BEFORE INSERT ON kept "
                        "WHEN NEW.id IS NOT (SELECT COALESCE(MAX(id), 0) + 1 FROM kept) "
                        "OR EXISTS (SELECT 1 FROM kept WHERE hash = NEW.hash) "
                        "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"},
};

Result<void> in_transaction(Database& database, std::string const& sql)
{
    auto done = database.run(("BEGIN IMMEDIATE;" + sql + "COMMIT;").c_str());
    if (!done && !sqlite3_get_autocommit(database.handle()))
        static_cast<void>(database.run("ROLLBACK")); // the first fault is the one to report
    return done;
}

} // namespace

Schema const& current_schema()
{
    static Schema const schema{1, parts, {}};
    return schema;
}

Result<void> create_schema(Database& database, Schema const& schema)
{
    std::string sql;
    for (SchemaPart const& part : schema.parts)
        sql.append(part.sql).append(";");
    sql += "PRAGMA application_id=" + std::to_string(application_id) + ";";
    sql += "PRAGMA user_version=" + std::to_string(schema.version) + ";";
    return in_transaction(database, sql);
}

Result<int> check_mark(Database& database, Schema const& schema)
{
    auto mark = database.ask_whole("PRAGMA application_id");
    if (!mark)
        return hand_up(mark);
    std::string const name = database.file().string();
    if (*mark != application_id)
        return fail(Error::Code::corrupt, name, name + " is not an Isochore journal; it is left as it is");
    auto version = database.ask_whole("PRAGMA user_version");
    if (!version)
        return hand_up(version);
    if (*version > schema.version)
        return fail(Error::Code::denied, name,
                    name + " was written by a newer Isochore (journal version " + std::to_string(*version) +
                        ", this one knows " + std::to_string(schema.version) + "): update this tablet");
    if (*version < 1)
        return fail(Error::Code::corrupt, name, name + " carries no journal version; it is left as it is");
    return static_cast<int>(*version);
}

Result<void> check_parts(Database& database, Schema const& schema)
{
    std::map<std::string, std::string> found;
    auto query = database.prepare("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL");
    if (!query)
        return hand_up(query);
    int code = query->step();
    for (; code == SQLITE_ROW; code = query->step())
        found.emplace(query->text(0), query->text(1));
    if (code != SQLITE_DONE)
        return tl::unexpected<Error>(database.fault("read"));
    std::string const name = database.file().string();
    for (SchemaPart const& part : schema.parts) {
        auto const at = found.find(part.name);
        if (at == found.end() || at->second != part.sql)
            return fail(Error::Code::corrupt, name,
                        "the part \"" + std::string(part.name) + "\" of " + name +
                            (at == found.end() ? " is missing" : " was changed") +
                            ": somebody altered the journal; it is left as it is");
    }
    return {};
}

Result<void> migrate(Database& database, Schema const& schema, int version)
{
    std::string sql;
    for (Migration const& step : schema.migrations)
        if (step.from == version) {
            sql.append(step.sql).append(";");
            ++version;
        }
    if (version != schema.version)
        return fail(Error::Code::corrupt, database.file().string(),
                    "no way is known from journal version " + std::to_string(version) + " to " +
                        std::to_string(schema.version));
    return in_transaction(database, sql + "PRAGMA user_version=" + std::to_string(version) + ";");
}

} // namespace isochore::journal
