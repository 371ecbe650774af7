#include "journal/attachments.h"
#include "journal/journal.h"
#include "journal/store.h"
#include "support/script_clock.h"
#include "support/temporary_folder.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <fstream>
#include <poll.h>
#include <random>
#include <set>
#include <sstream>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

using namespace isochore;

namespace {

constexpr int patience_ms = 10000;

/// Runs a program, kills it without warning some time after its start (or after the first thing it said, so
/// that a slow machine too is killed amid work), and gives back all it had said.
std::string run_and_kill(std::vector<std::string> const& words, bool at_work, std::chrono::microseconds after,
                         bool& killed)
{
    int pipe_ends[2];
    REQUIRE(::pipe(pipe_ends) == 0);
    std::vector<char*> arguments;
    for (auto const& word : words)
        arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    pid_t const child = ::fork();
    if (child == 0) {
        ::dup2(pipe_ends[1], STDOUT_FILENO);
        ::close(pipe_ends[0]);
        ::execv(arguments[0], arguments.data());
        ::_exit(127);
    }
    ::close(pipe_ends[1]);
    if (at_work) {
        pollfd first{pipe_ends[0], POLLIN, 0};
        CHECK(::poll(&first, 1, patience_ms) == 1);
    }
    std::this_thread::sleep_for(after);
    ::kill(child, SIGKILL);
    std::string said;
    char buffer[4096];
    for (ssize_t got = 0; (got = ::read(pipe_ends[0], buffer, sizeof buffer)) > 0;)
        said.append(buffer, static_cast<std::size_t>(got));
    ::close(pipe_ends[0]);
    int status = 0;
    ::waitpid(child, &status, 0);
    killed = WIFSIGNALED(status);
    return said;
}

/// How many entries a line of the script makes.
std::size_t entries_of(std::string const& line)
{
    return line.starts_with("later ") ? 0 : line.starts_with("stick readback ") ? 2 : 1;
}

/// The lines of the scripted outage that make an entry, and the clock's.
std::vector<std::string> outage_lines(std::filesystem::path const& photo)
{
    std::ifstream in(std::string(ISOCHORE_SOURCE_DIR) + "/tests/rehearsals/whole_outage.job");
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line[0] == '#')
            continue;
        if (auto const at = line.find("@FILE@"); at != std::string::npos)
            line.replace(at, 6, photo.string());
        lines.push_back(line);
    }
    return lines;
}

/// The entries somebody made: those on the clock are left out.
std::size_t entries_in(std::string const& folder, std::string const& job)
{
    auto const store = journal::open_journal(folder);
    if (!store)
        FAIL(store.error().detail);
    if (auto const whole = (*store)->verify(job); !whole)
        FAIL(whole.error().detail);
    auto const entries = (*store)->entries(job);
    REQUIRE(entries);
    return static_cast<std::size_t>(std::count_if(entries->begin(), entries->end(), [](auto const& entry) {
        return entry.body.find(R"("type":"clock")") == std::string::npos;
    }));
}

} // namespace

TEST_CASE(
    "a process killed at 200 random moments loses nothing it had confirmed, and the lock is free at once")
{
    test::TemporaryFolder const folder;
    auto const disk = disk::system_disk();
    REQUIRE(journal::open_journal(folder.path()));
    std::mt19937 random(7);
    std::size_t confirmed = 0, with_work = 0;
    for (int round = 0; round < 200; ++round) {
        std::string const job = "job-" + std::to_string(round);
        bool killed = false;
        bool const at_work = round % 4 != 0; // every fourth while it starts
        auto const said = run_and_kill({ISOCHORE_APPEND_LOOP, folder.path().string(), job}, at_work,
                                       std::chrono::microseconds(random() % 12000), killed);
        CHECK(killed); // it must not have ended by itself

        auto const store = journal::open_journal(folder.path());
        if (!store)
            FAIL(store.error().detail);
        auto const entries = (*store)->entries(job);
        REQUIRE(entries);
        std::set<std::string> hashes;
        for (auto const& entry : *entries)
            hashes.insert(entry.hash);
        std::istringstream lines(said);
        std::size_t promised = 0;
        for (std::string kind, hash; lines >> kind >> hash; ++confirmed) {
            if (kind == "file")
                CHECK(journal::Attachments(*disk, folder.path()).read(hash));
            else if (++promised; !hashes.contains(hash))
                FAIL("lost " << hash << " in round " << round);
        }
        CHECK(hashes.size() <= promised + 1);
        CHECK((*store)->verify(job));
        with_work += promised > 0;
    }
    auto const store = journal::open_journal(folder.path());
    CHECK((*store)->verify_all());
    WARN("200 kills, " << confirmed << " confirmed entries and files, all there; " << with_work
                       << " kills came amid work");
    CHECK(with_work >= 100); // kills before the first entry prove little
}

TEST_CASE(
    "a whole outage entered by job commands is killed at 200 random moments and loses nothing it confirmed")
{
    // One outage after the other: each kill comes some way into what is left of it, and the next run goes on
    // behind the last entry that is there.
    std::string const job = "AF-Q07-112";
    test::TemporaryFolder const folder;
    std::ofstream(folder / "photo") << "as good as a photo";
    auto const all = outage_lines(folder / "photo");
    REQUIRE(all.size() > 200);
    std::mt19937 random(13);
    std::size_t confirmed_in_all = 0, outages = 0, at_work = 0;
    auto const begun = std::chrono::steady_clock::now();
    std::string store;
    test::ScriptClock clock;
    std::size_t next = all.size(), entries = 0;
    for (int round = 0, kills = 0; kills < 200; ++round) {
        REQUIRE(round < 400);
        bool killed = false;
        if (next + 25 >= all.size()) { // a new outage, while there is something left to be killed in
            store = (folder / ("store-" + std::to_string(++outages))).string();
            next = 0;
            entries = 0;
            clock = {};
        }
        auto const script = folder / "script.job";
        {
            std::ofstream out(script);
            for (std::size_t i = next; i < all.size(); ++i)
                out << all[i] << '\n';
        }
        auto const said = run_and_kill(
            {ISOCHORE_PROGRAM, "--data", store, "job", "script", script.string(), "--clock", clock.text()},
            true, std::chrono::microseconds(random() % 20000), killed);
        kills += killed; // one that came to its end is checked like the others, and does not count

        if (said.find("Stopped at line") != std::string::npos)
            FAIL(said);
        std::size_t confirmed = 0, line = next;
        for (std::size_t at = 0; (at = said.find(" done.\n", at)) != std::string::npos; ++at)
            confirmed += entries_of(all[line++]);
        std::size_t const under_way = line < all.size() ? entries_of(all[line]) : 0;
        std::size_t const made = entries_in(store, job);
        if (made < entries + confirmed || made > entries + confirmed + under_way)
            FAIL("round " << round << ": " << made << " entries, " << entries << " before and " << confirmed
                          << " confirmed\n"
                          << said);
        confirmed_in_all += confirmed;
        at_work += confirmed > 0;
        // Go on behind the last entry.
        std::size_t left = made - entries;
        for (; next < all.size() && entries_of(all[next]) <= left; ++next) {
            left -= entries_of(all[next]);
            clock.pass(all[next]);
        }
        entries = made;
    }
    double const took = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    WARN("200 kills in " << outages << " outages, " << confirmed_in_all
                         << " confirmed entries, all there, in " << took << " s");
    CHECK(at_work >= 150);
    CHECK(outages >= 2);
}

TEST_CASE("a process killed while it brings an older journal up to date leaves the old one or the new, each whole")
{
    // The next version has a table more, filled by as much work as makes the kills meet it.
    std::vector<journal::SchemaPart> parts(journal::current_schema().parts.begin(),
                                           journal::current_schema().parts.end());
    parts.push_back({"note", "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT"});
    journal::Migration const step{
        1, "CREATE TABLE note(id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT;"
           "INSERT INTO note(text) WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 4000) "
           "SELECT hex(randomblob(40)) FROM n"};
    journal::Schema const next{2, parts, {&step, 1}};
    constexpr int entries = 300, rounds = 60;
    auto const disk = disk::system_disk();
    test::TemporaryFolder const original;
    {
        auto const store = journal::open_journal(original.path());
        for (int i = 0; i < entries; ++i)
            REQUIRE((*store)->append("job", {{"i", i}, {"typed", std::string(600, 'x')}}));
    }
    auto const whole = [](Result<std::unique_ptr<journal::Journal>> const& store) {
        if (!store)
            FAIL(store.error().detail);
        return (*store)->entries("job")->size() == entries && (*store)->verify_all().has_value();
    };
    std::mt19937 random(23);
    int old_left = 0, copied = 0, done = 0;
    double longest_us = 20000.0; // of an update that nobody cuts off; found as the rounds go
    for (int round = 0; round < rounds; ++round) {
        test::TemporaryFolder const folder;
        std::filesystem::copy_file(original / "journal.db", folder / "journal.db");
        auto const begun = std::chrono::steady_clock::now();
        pid_t const child = ::fork();
        if (child == 0) {
            auto lock = journal::FileLock::take(folder / "journal.lock");
            auto const store =
                journal::open_store(folder.path(), {.disk = *disk, .schema = &next}, std::move(*lock), {});
            ::_exit(store ? 0 : 1);
        }
        if (round > 0) {
            std::uniform_real_distribution<double> moment(0.0, longest_us);
            std::this_thread::sleep_for(std::chrono::microseconds(static_cast<int>(moment(random))));
            ::kill(child, SIGKILL);
        }
        int status = 0;
        ::waitpid(child, &status, 0);
        if (round == 0)
            longest_us =
                std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - begun).count();
        CHECK((WIFSIGNALED(status) || WEXITSTATUS(status) == 0));

        bool const copy = std::filesystem::exists(folder / "journal-version-1.db");
        // The old program still opens what was not brought up to date, and refuses what was.
        bool const still_old = journal::open_journal(folder.path()).has_value();
        old_left += still_old;
        copied += copy && still_old;
        done += !still_old;
        CHECK((copy || still_old)); // never updated without a copy
        CHECK(whole(journal::open_store(folder.path(), {.disk = *disk, .schema = &next}, {}, {})));
        // The copy under its own name is a whole journal of the old version.
        std::filesystem::create_directory(folder / "old");
        std::filesystem::copy_file(folder / "journal-version-1.db", folder / "old/journal.db");
        CHECK(whole(journal::open_journal(folder / "old")));
    }
    WARN(rounds << " updates, killed but for the first: " << old_left << " left the old journal, " << copied
                << " of them with its copy made, " << done << " the new one");
    CHECK(old_left > 0);
    CHECK(done > 0);
}
