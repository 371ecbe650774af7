#include "journal/attachments.h"
#include "journal/journal.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
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

/// Runs append_loop, kills it without warning some time after its start (or after its first confirmed entry,
/// so that a slow machine too is killed amid work), and gives back what it had confirmed.
std::string run_and_kill(std::string const& folder, std::string const& job, bool at_work,
                         std::chrono::microseconds after)
{
    int pipe_ends[2];
    REQUIRE(::pipe(pipe_ends) == 0);
    pid_t const child = ::fork();
    if (child == 0) {
        ::dup2(pipe_ends[1], STDOUT_FILENO);
        ::close(pipe_ends[0]);
        ::execl(ISOCHORE_APPEND_LOOP, "append_loop", folder.c_str(), job.c_str(), nullptr);
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
    CHECK(WIFSIGNALED(status)); // it must not have ended by itself
    return said;
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
        bool const at_work = round % 4 != 0; // every fourth while it starts
        auto const said =
            run_and_kill(folder.path().string(), job, at_work, std::chrono::microseconds(random() % 12000));
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
