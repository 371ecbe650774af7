#include "disk/disk.h"
#include "journal/journal.h"
#include "journal/sqlite.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

using namespace isochore;
using isochore::journal::Database;
using isochore::test::TemporaryFolder;

namespace {

void fill(std::filesystem::path const& folder, int entries = 3)
{
    auto store = journal::open_journal(folder);
    REQUIRE(store);
    for (int i = 0; i < entries; ++i)
        REQUIRE((*store)->append("job", {{"i", i}}));
    REQUIRE((*store)->keep("a checklist"));
}

/// Another tool's connection: without our pragmas.
Database raw(std::filesystem::path const& folder)
{
    auto database = Database::open(folder / "journal.db", Database::Mode::existing, nullptr);
    REQUIRE(database);
    sqlite3_db_config(database->handle(), SQLITE_DBCONFIG_DEFENSIVE, 0, nullptr);
    return std::move(*database);
}

std::string bytes_of(std::filesystem::path const& file)
{
    std::ifstream in(file, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

void put(std::filesystem::path const& file, std::string_view bytes)
{
    std::ofstream(file, std::ios::binary) << bytes;
}

Error refused(std::filesystem::path const& folder, Error::Code code = Error::Code::corrupt)
{
    auto const store = journal::open_journal(folder);
    REQUIRE_FALSE(store);
    CHECK(store.error().code == code);
    CHECK(store.error().detail.find(folder.string()) != std::string::npos);
    return store.error();
}

} // namespace

TEST_CASE("rows cannot be changed, deleted, replaced or slipped in, whatever connection tries")
{
    TemporaryFolder const folder;
    fill(folder.path());
    Database other = raw(folder.path());
    for (char const* sql :
         {"UPDATE entry SET body = '{}' WHERE seq = 1", "DELETE FROM entry WHERE seq = 3",
          "DELETE FROM entry", "INSERT OR REPLACE INTO entry VALUES(1, 1, 1, '{}', 'x')",
          "REPLACE INTO entry VALUES(4, 1, 2, '{}', 'x')", "INSERT INTO entry VALUES(9, 1, 4, '{}', 'x')",
          "INSERT INTO entry VALUES(4, 1, 9, '{}', 'x')",
          "INSERT OR IGNORE INTO entry VALUES(2, 1, 2, '{}', 'x')",
          "INSERT INTO entry(job, n, body, hash) VALUES(1, 4, '{}', 'x')",
          "INSERT INTO entry VALUES(2, 1, 2, '{}', 'x') ON CONFLICT(seq) DO UPDATE SET body = '{}'",
          "UPDATE job SET name = 'other'", "DELETE FROM job", "REPLACE INTO job VALUES(1, 'other')",
          "REPLACE INTO job VALUES(2, 'job')", "UPDATE kept SET text = ''", "DELETE FROM kept",
          "REPLACE INTO kept SELECT id, hash, 'x' FROM kept",
          "REPLACE INTO kept SELECT id + 1, hash, 'x' FROM kept"}) {
        CAPTURE(sql);
        CHECK_FALSE(other.run(sql));
    }
    CHECK(other.ask_whole("SELECT COUNT(*) FROM entry") == 3);
}

TEST_CASE("a trigger taken away is noticed at the next start")
{
    for (char const* sql :
         {"DROP TRIGGER entry_no_update", "DROP TRIGGER kept_no_replace", "DROP INDEX entry_in_job",
          "DROP TRIGGER entry_no_delete; CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry "
          "BEGIN SELECT 1; END"}) {
        TemporaryFolder const folder;
        fill(folder.path());
        REQUIRE(raw(folder.path()).run(sql));
        CHECK(refused(folder.path()).detail.find("altered") != std::string::npos);
    }
}

TEST_CASE("history altered behind the triggers' back is found and the entry is named")
{
    struct Row {
        char const *sql, *entry;
    };
    static Row const rows[] = {
        {"UPDATE entry SET body = replace(body, '\"i\":1', '\"i\":7') WHERE seq = 2", "entry 2"},
        {"UPDATE entry SET hash = lower(hex(randomblob(32))) WHERE seq = 3", "entry 3"},
        {"DELETE FROM entry WHERE seq = 2", "entry 2"},
        {"UPDATE entry SET n = n + 10; UPDATE entry SET n = 14 - n", "entry 1"},
        {"DELETE FROM entry WHERE seq = 1; UPDATE entry SET n = n - 1, seq = seq - 1", "entry 1"},
    };
    for (Row const& row : rows) {
        TemporaryFolder const folder;
        fill(folder.path());
        {
            Database other = raw(folder.path());
            std::string triggers;
            for (char const* name : {"entry_no_update", "entry_no_delete"})
                triggers +=
                    *other.ask(
                        ("SELECT sql FROM sqlite_schema WHERE name = '" + std::string(name) + "'").c_str()) +
                    ";";
            REQUIRE(other.run("DROP TRIGGER entry_no_update; DROP TRIGGER entry_no_delete"));
            REQUIRE(other.run(row.sql));
            REQUIRE(other.run(triggers.c_str())); // all looks as before
        }
        auto const store = journal::open_journal(folder.path());
        REQUIRE(store);
        for (auto const& verified : {(*store)->verify("job"), (*store)->verify_all()}) {
            REQUIRE_FALSE(verified);
            CHECK(verified.error().code == Error::Code::corrupt);
        }
        CHECK((*store)->verify("job").error().where.find(row.entry) != std::string::npos);
        for (int again = 0; again < 2; ++again) {
            Result<std::int64_t> left = 1;
            while (left && *left > 0)
                left = (*store)->verify_some(1);
            CHECK_FALSE(left);
        }
    }
}

TEST_CASE("the last entries deleted leave a chain that holds, which only a sealed record can show")
{
    // Said here so that nobody takes the chain for more than it is.
    TemporaryFolder const folder;
    fill(folder.path());
    {
        Database other = raw(folder.path());
        std::string const trigger =
            *other.ask("SELECT sql FROM sqlite_schema WHERE name = 'entry_no_delete'");
        REQUIRE(other.run("DROP TRIGGER entry_no_delete; DELETE FROM entry WHERE seq = 3"));
        REQUIRE(other.run(trigger.c_str()));
    }
    CHECK((*journal::open_journal(folder.path()))->verify("job"));
}

TEST_CASE("a file that is no journal is named and not touched")
{
    for (std::string const& bytes :
         {std::string(), std::string("not a database at all"), std::string(8192, '\0'),
          std::string(8192, 'x'), std::string("SQLite format 3\0", 16),
          std::string("SQLite format 3\0", 16) + std::string(5000, 'y')}) {
        TemporaryFolder const folder;
        put(folder / "journal.db", bytes);
        refused(folder.path());
        CHECK(bytes_of(folder / "journal.db") == bytes);
    }
}

TEST_CASE("another program's database is named and not touched")
{
    TemporaryFolder const folder;
    {
        auto other = Database::open(folder / "journal.db", Database::Mode::create, nullptr);
        REQUIRE(other->run("PRAGMA application_id=7; CREATE TABLE t(x); INSERT INTO t VALUES(1)"));
    }
    std::string const before = bytes_of(folder / "journal.db");
    refused(folder.path());
    CHECK(bytes_of(folder / "journal.db") == before);
}

TEST_CASE("a journal of a newer version is refused with what to do")
{
    TemporaryFolder const folder;
    fill(folder.path());
    REQUIRE(raw(folder.path()).run("PRAGMA user_version=2"));
    CHECK(refused(folder.path(), Error::Code::denied).detail.find("newer") != std::string::npos);
}

TEST_CASE("a journal damaged anywhere is named, or verification finds it; it is never made worse")
{
    TemporaryFolder const whole;
    fill(whole.path(), 40);
    std::string const good = bytes_of(whole / "journal.db");
    int at_start = 0, later = 0;
    for (std::size_t page = 0; page * 4096 < good.size(); ++page) {
        TemporaryFolder const folder;
        std::string bad = good;
        for (std::size_t i = 0; i < 4096; ++i) // a page the disk gave back as rubbish
            bad[page * 4096 + i] = static_cast<char>(i * 31 + page);
        put(folder / "journal.db", bad);
        auto const store = journal::open_journal(folder.path());
        if (!store) {
            ++at_start;
            CHECK(store.error().code == Error::Code::corrupt);
            CHECK(bytes_of(folder / "journal.db") == bad);
        } else {
            ++later;
            CHECK_FALSE((*store)->verify_all());
        }
    }
    CHECK(at_start >= 1);
    CHECK(later >= 1);
}

TEST_CASE("a journal cut short is not taken for a whole one")
{
    TemporaryFolder const whole;
    fill(whole.path(), 40);
    std::string const good = bytes_of(whole / "journal.db");
    for (std::size_t const size : {std::size_t{1}, std::size_t{50}, std::size_t{4096}, good.size() - 4096}) {
        TemporaryFolder const folder;
        put(folder / "journal.db", good.substr(0, size));
        auto const store = journal::open_journal(folder.path());
        if (store)
            CHECK_FALSE((*store)->verify_all());
        else
            CHECK(store.error().code == Error::Code::corrupt);
    }
}

TEST_CASE("a log without its journal is not taken for a new beginning")
{
    TemporaryFolder const folder;
    put(folder / "journal.db-wal", "the last entries");
    CHECK(refused(folder.path()).detail.find("journal.db-wal") != std::string::npos);
    CHECK(bytes_of(folder / "journal.db-wal") == "the last entries");
    CHECK_FALSE(std::filesystem::exists(folder / "journal.db"));
}

TEST_CASE("what an interrupted first start left behind is no hindrance")
{
    TemporaryFolder const folder;
    put(folder / "journal.new", "half a file");
    put(folder / "journal.new-journal", "rubbish");
    fill(folder.path());
    CHECK_FALSE(std::filesystem::exists(folder / "journal.new"));
    put(folder / "journal.new", "again");
    CHECK((*journal::open_journal(folder.path()))->entries("job")->size() == 3);
    CHECK_FALSE(std::filesystem::exists(folder / "journal.new"));
}

TEST_CASE("while another tool holds the file the start says so instead of hanging")
{
    TemporaryFolder const folder;
    fill(folder.path());
    Database other = raw(folder.path());
    REQUIRE(other.run("PRAGMA locking_mode=EXCLUSIVE; BEGIN EXCLUSIVE"));
    CHECK(refused(folder.path(), Error::Code::denied).detail.find("another program") != std::string::npos);
    REQUIRE(other.run("COMMIT"));
}

TEST_CASE("a symbolic link is not followed to somebody else's journal")
{
    TemporaryFolder const theirs, folder;
    fill(theirs.path());
    std::filesystem::create_symlink(theirs / "journal.db", folder / "journal.db");
    CHECK_FALSE(journal::open_journal(folder.path()));
}
