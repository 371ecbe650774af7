#include "session/workspace.h"
#include <benchmark/benchmark.h>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

using namespace isochore;

namespace {

/// A store with one outage of so many entries: readings of a thermometer, corrected over and over.
class Store {
public:
    explicit Store(std::int64_t entries)
    {
        std::string name = (std::filesystem::temp_directory_path() / "isochore-bench-XXXXXX").string();
        if (!mkdtemp(name.data()))
            throw std::runtime_error("no temporary folder");
        m_folder = name;
        reopen();
        session::NewOutage setup;
        setup.facts = {{"station", "Alder Ferry"}, {"bay", "Q07"},   {"serial", "41-0387"},
                       {"job_no", "B 1"},          {"window", "2 h"}};
        setup.crew = {"N. Quill", "I. Brandt"};
        setup.who = "N. Quill";
        auto begun = m_workspace->begin("kd-41", setup);
        if (!begun)
            throw std::runtime_error(begun.error().detail);
        m_outage = std::move(*begun);
        while (m_outage->state().entries < entries)
            record();
    }
    ~Store()
    {
        m_outage.reset();
        m_workspace.reset();
        std::filesystem::remove_all(m_folder);
    }
    Store(Store const&) = delete;
    Store& operator=(Store const&) = delete;

    void record()
    {
        m_clock.advance(20);
        std::string const typed = std::to_string(10 + m_clock.now().utc_ms / 20000 % 10) + " degC";
        if (auto const done = m_outage->record_value("joint.temperature", typed); !done)
            throw std::runtime_error(done.error().detail);
    }
    void undo()
    {
        if (auto const done = m_outage->undo(); !done)
            throw std::runtime_error(done.error().detail);
    }
    void resume()
    {
        auto opened = m_workspace->resume(m_outage->job(), {});
        if (!opened)
            throw std::runtime_error(opened.error().detail);
        m_outage = std::move(*opened);
    }
    [[nodiscard]] double entries() const { return static_cast<double>(m_outage->state().entries); }

private:
    void reopen()
    {
        disk::Path const source(ISOCHORE_SOURCE_DIR);
        auto opened = session::Workspace::open({m_folder, source / "checklists", source / "profiles"},
                                               m_clock, *m_disk);
        if (!opened)
            throw std::runtime_error(opened.error().detail);
        m_workspace = std::move(*opened);
    }

    std::filesystem::path m_folder;
    session::SetClock m_clock{1772438400000};
    std::unique_ptr<disk::Disk> m_disk = disk::system_disk();
    std::unique_ptr<session::Workspace> m_workspace;
    std::unique_ptr<session::Outage> m_outage;
};

/// One more entry, durable: what an undo is held against.
void record_an_entry(benchmark::State& state)
{
    Store store(state.range(0));
    for (auto _ : state)
        store.record();
    state.counters["entries"] = store.entries();
}

/// Takes the last entry back. All entries are replayed, since the one taken back never counted.
void undo_the_last_entry(benchmark::State& state)
{
    Store store(state.range(0));
    for (auto _ : state) {
        state.PauseTiming();
        store.record();
        state.ResumeTiming();
        store.undo();
    }
    state.counters["entries"] = store.entries();
}

/// Opens the outage from the store: reads, verifies its chain, replays.
void open_the_outage(benchmark::State& state)
{
    Store store(state.range(0));
    for (auto _ : state)
        store.resume();
    state.counters["entries"] = store.entries();
}

// So few rounds that the outage stays about as long as it is said to be.
BENCHMARK(record_an_entry)->Arg(20)->Arg(2000)->Iterations(40)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(undo_the_last_entry)
    ->Arg(20)
    ->Arg(2000)
    ->Iterations(40)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK(open_the_outage)->Arg(20)->Arg(2000)->Unit(benchmark::kMillisecond)->UseRealTime();

} // namespace
