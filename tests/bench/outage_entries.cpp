#include "bench_store.h"
#include <benchmark/benchmark.h>

using namespace isochore;

namespace {

/// A store with one outage of so many entries: readings of a thermometer, corrected over and over.
class Store {
public:
    explicit Store(std::int64_t entries) : m_outage(m_store.begin())
    {
        while (m_outage->state().entries < entries)
            record();
    }

    void record()
    {
        m_store.clock().advance(20);
        std::string const typed = std::to_string(10 + m_store.clock().now().utc_ms / 20000 % 10) + " degC";
        if (auto const done = m_outage->record_value("joint.temperature", typed); !done)
            throw std::runtime_error(done.error().detail);
    }
    void undo()
    {
        if (auto const done = m_outage->undo(); !done)
            throw std::runtime_error(done.error().detail);
    }
    void resume() { m_outage = bench::got(m_store.workspace().resume(m_outage->job(), {})); }
    [[nodiscard]] double entries() const { return static_cast<double>(m_outage->state().entries); }

private:
    bench::EmptyStore m_store;
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
