#include "journal/chain.h"
#include "journal/journal.h"
#include "journal/sqlite.h"
#include "seal/record.h"
#include <algorithm>
#include <benchmark/benchmark.h>
#include <chrono>
#include <cstdlib>
#include <filesystem>

using namespace isochore;

namespace {

class Folder {
public:
    Folder()
    {
        std::string name = (std::filesystem::temp_directory_path() / "isochore-bench-XXXXXX").string();
        m_path = ::mkdtemp(name.data());
    }
    Folder(Folder const&) = delete;
    Folder& operator=(Folder const&) = delete;
    ~Folder() { std::filesystem::remove_all(m_path); }
    [[nodiscard]] std::filesystem::path const& path() const { return m_path; }

private:
    std::filesystem::path m_path;
};

Json reading(int i)
{
    return {{"kind", "value"},
            {"at", "2026-11-25T13:05:09+00:00"},
            {"by", "p2"},
            {"step", "fill.after"},
            {"typed", std::to_string(i) + ".50"},
            {"parsed", std::to_string(i) + ".50 bar g"},
            {"instrument", "gauge-7"}};
}

double median(std::vector<double>& values)
{
    auto const middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

double timed_us(auto&& work)
{
    auto const start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - start).count();
}

/// One bare SQLite WAL/FULL commit of the same text and one append, turn by turn, so that both meet the same
/// disk; the ratio is of the medians.
void append_against_bare_commit(benchmark::State& state)
{
    Folder const folder;
    auto store = journal::open_journal(folder.path());
    auto bare = journal::Database::open(folder.path() / "bare.db", journal::Database::Mode::create, nullptr);
    static_cast<void>(bare->run("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t(x TEXT)"));
    auto insert = bare->prepare("INSERT INTO t VALUES(?1)");
    std::vector<double> bare_us, append_us;
    int i = 0;
    std::string body = (*store)->append("job", reading(0))->body;
    for (auto _ : state) {
        bare_us.push_back(timed_us([&] {
            insert->bind(1, body);
            insert->step();
            insert->reset();
        }));
        append_us.push_back(timed_us([&] { body = (*store)->append("job", reading(++i))->body; }));
    }
    state.counters["bare_us"] = median(bare_us);
    state.counters["append_us"] = median(append_us);
    state.counters["ratio"] = median(append_us) / median(bare_us);
}
BENCHMARK(append_against_bare_commit)->Iterations(2000)->Unit(benchmark::kMicrosecond);

void verify_record_of_100000_entries(benchmark::State& state)
{
    std::vector<journal::Entry> entries;
    std::string prev(journal::no_hash);
    for (int i = 1; i <= 100000; ++i) {
        entries.push_back(*journal::make_entry("outage-2026-0117", i, prev, reading(i)));
        prev = entries.back().hash;
    }
    auto const key = *seal::TabletKey::from_seed(std::string(64, '1'));
    std::string const text = *seal::seal_entries("outage-2026-0117", entries, {}, key);
    for (auto _ : state)
        benchmark::DoNotOptimize(seal::verify_record(text));
    state.counters["MB"] = static_cast<double>(text.size()) / 1e6;
}
BENCHMARK(verify_record_of_100000_entries)->Unit(benchmark::kMillisecond)->UseRealTime();

void open_and_list_10000_jobs(benchmark::State& state)
{
    Folder const folder;
    static_cast<void>(journal::open_journal(folder.path()));
    {
        // One transaction: 80,000 flushes would say nothing about opening.
        auto database =
            journal::Database::open(folder.path() / "journal.db", journal::Database::Mode::existing, nullptr);
        auto add_job = database->prepare("INSERT INTO job VALUES(?1, ?2)");
        auto add = database->prepare("INSERT INTO entry VALUES(?1, ?2, ?3, ?4, ?5)");
        static_cast<void>(database->run("BEGIN"));
        std::int64_t seq = 0;
        for (std::int64_t job = 1; job <= 10000; ++job) {
            std::string const name = "outage-" + std::to_string(job);
            add_job->bind(1, job);
            add_job->bind(2, name);
            add_job->step();
            add_job->reset();
            std::string prev(journal::no_hash);
            for (std::int64_t n = 1; n <= 8; ++n) {
                auto const entry = journal::make_entry(name, n, prev, reading(static_cast<int>(n)));
                add->bind(1, ++seq);
                add->bind(2, job);
                add->bind(3, n);
                add->bind(4, entry->body);
                add->bind(5, entry->hash);
                add->step();
                add->reset();
                prev = entry->hash;
            }
        }
        static_cast<void>(database->run("COMMIT"));
    }
    for (auto _ : state) {
        auto store = journal::open_journal(folder.path());
        benchmark::DoNotOptimize((*store)->jobs());
    }
}
BENCHMARK(open_and_list_10000_jobs)->Unit(benchmark::kMillisecond);

} // namespace
