#include "disk/disk.h"
#include "journal/store.h"
#include "support/faulting_disk.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <fstream>

using namespace isochore;
using namespace isochore::journal;
using isochore::test::TemporaryFolder;

namespace {

std::unique_ptr<Journal> opened(std::filesystem::path const& folder)
{
    auto store = open_journal(folder);
    REQUIRE(store);
    return std::move(*store);
}

// What a version 2 might look like: one more table, and the trigger of kept texts under another name.
std::vector<SchemaPart> next_parts()
{
    std::vector<SchemaPart> parts(current_schema().parts.begin(), current_schema().parts.end());
    parts.push_back({"note", "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT"});
    return parts;
}

} // namespace

TEST_CASE("an export is one whole verified file that opens as a journal elsewhere")
{
    TemporaryFolder const folder, elsewhere;
    auto const store = opened(folder.path());
    for (int i = 0; i < 50; ++i)
        REQUIRE(store->append("job", {{"i", i}}));
    std::string const hash = *store->keep("a checklist");
    REQUIRE(store->export_to(elsewhere / "journal.db"));
    CHECK(std::distance(std::filesystem::directory_iterator(elsewhere.path()), {}) == 1);
    REQUIRE(store->append("job", {{"i", 50}})); // and the original goes on
    auto const copy = opened(elsewhere.path());
    CHECK(copy->entries("job")->size() == 50);
    CHECK(copy->kept(hash) == "a checklist");
    CHECK(copy->verify_all());
    CHECK(copy->append("job", {{"i", "elsewhere"}}));
}

TEST_CASE("an export overwrites nothing and leaves nothing half behind")
{
    TemporaryFolder const folder, elsewhere;
    auto const store = opened(folder.path());
    REQUIRE(store->append("job", {{"i", 1}}));
    std::ofstream(elsewhere / "taken.db") << "precious";
    auto const refused = store->export_to(elsewhere / "taken.db");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == Error::Code::denied);
    CHECK(std::filesystem::file_size(elsewhere / "taken.db") == 8);
    CHECK_FALSE(store->export_to(elsewhere / "no such folder" / "x.db"));
    std::ofstream(elsewhere / "x.db.part") << "of an earlier try";
    REQUIRE(store->export_to(elsewhere / "x.db"));
    CHECK_FALSE(std::filesystem::exists(elsewhere / "x.db.part"));
}

TEST_CASE("an older journal is copied and verified before it is brought up to date")
{
    TemporaryFolder const folder;
    auto const disk = disk::system_disk();
    opened(folder.path())->append("job", {{"i", 1}}).value();
    auto const parts = next_parts();
    Migration const step{1, "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT"};
    Schema const next{2, parts, {&step, 1}};
    {
        auto const store = open_store(folder.path(), {.disk = *disk, .schema = &next}, FileLock(), {});
        REQUIRE(store);
        CHECK((*store)->append("job", {{"i", 2}})->n == 2);
        CHECK((*store)->verify_all());
    }
    // The copy is the journal of before, and the old program can read it.
    TemporaryFolder const old;
    std::filesystem::copy_file(folder / "journal-version-1.db", old / "journal.db");
    CHECK(opened(old.path())->entries("job")->size() == 1);
    // The old program refuses the new journal rather than work on it.
    CHECK(open_journal(folder.path()).error().code == Error::Code::denied);
    // Once up to date there is no second copy.
    REQUIRE(open_store(folder.path(), {.disk = *disk, .schema = &next}, FileLock(), {}));
    CHECK_FALSE(std::filesystem::exists(folder / "journal-version-1-2.db"));
}

TEST_CASE("a migration that fails leaves the journal as it was, with its copy beside it")
{
    TemporaryFolder const folder;
    auto const disk = disk::system_disk();
    opened(folder.path())->append("job", {{"i", 1}}).value();
    auto const parts = next_parts();
    Migration const bad{
        1, "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT; SELECT nonsense"};
    Schema const broken{2, parts, {&bad, 1}};
    CHECK_FALSE(open_store(folder.path(), {.disk = *disk, .schema = &broken}, FileLock(), {}));
    CHECK(opened(folder.path())->entries("job")->size() == 1);
    Schema const gap{3, parts, {&bad, 1}};
    CHECK_FALSE(open_store(folder.path(), {.disk = *disk, .schema = &gap}, FileLock(), {}));
    CHECK(opened(folder.path())->verify_all());
}

TEST_CASE("no migration begins when its copy cannot be made")
{
    TemporaryFolder const folder;
    auto const disk = disk::system_disk();
    opened(folder.path())->append("job", {{"i", 1}}).value();
    auto const parts = next_parts();
    Migration const step{1, "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT"};
    Schema const next{2, parts, {&step, 1}};
    int copies_refused = 0; // the other faults come before the copy is begun
    for (int n = 1;; ++n) {
        test::FaultingDisk faulting(*disk, n, test::Fault::full);
        auto const store = open_store(folder.path(), {.disk = faulting, .schema = &next}, FileLock(), {});
        if (!faulting.failed())
            break;
        REQUIRE_FALSE(store);
        // The crew reads what could not be done, why, and that nothing was changed.
        std::string const said = store.error().detail;
        CHECK(said.find("the disk is full") != std::string::npos);
        bool const of_the_copy = said.find("could not be copied before its update") != std::string::npos;
        CHECK(of_the_copy == (said.find("The journal is as it was.") != std::string::npos));
        copies_refused += of_the_copy;
        CHECK(opened(folder.path())->entries("job")->size() == 1); // still version 1: this program opens it
    }
    CHECK(copies_refused >= 3); // its flush, its name, its folder
}
