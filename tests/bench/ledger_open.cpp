// The gas ledger of a tablet with 1,000 outages, each with a fill: opened for the first time, when every
// outage is looked into, and again, when none went on since. Prints figures, decides nothing.
#include "bench_store.h"
#include "session/gas_balance.h"
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <stdexcept>

using namespace isochore;
using namespace isochore::session;

namespace {

constexpr int outages = 1000;

/// Each outage as its journal has it: begun, with one gas account.
class Store {
public:
    Store()
    {
        for (int i = 0; i < outages; ++i)
            add_outage(i);
    }

    [[nodiscard]] Workspace& workspace() { return m_store.workspace(); }

private:
    void add_outage(int i)
    {
        auto const outage = m_store.begin(fmt::format("B {}", i), fmt::format("41-{:04}", i));
        auto const kg = [](double value) { return Json{{"value", value}, {"unit", "kg"}, {"u", 0.02}}; };
        Json const results{{"mass_from_cylinder", kg(0.9)},
                           {"mass_into_breaker", kg(0.85)},
                           {"mass_in_hoses", kg(0.0)},
                           {"handling_loss", kg(0.05)}};
        auto const noted = outage->note({{"type", "recorded"},
                                         {"step", "fill.account"},
                                         {"calc", "fill.account"},
                                         {"verdict", "pass"},
                                         {"inputs", {{"cylinder", fmt::format("C {}", i % 20)}}},
                                         {"result", {{"results", results}}}});
        if (!noted)
            throw std::runtime_error(noted.error().detail);
    }

    bench::EmptyStore m_store;
};

std::size_t open_ledger(Workspace& workspace)
{
    GasLedger ledger(workspace);
    std::vector<std::string> problems;
    if (auto const taken = ledger.take_over(problems); !taken || !problems.empty())
        throw std::runtime_error(taken ? problems.front() : taken.error().detail);
    auto const book = ledger.book();
    if (!book)
        throw std::runtime_error(book.error().detail);
    return balances(*book).size() + book->movements.size();
}

void first_opening(benchmark::State& state)
{
    for (auto _ : state) {
        state.PauseTiming();
        auto store = std::make_unique<Store>();
        state.ResumeTiming();
        benchmark::DoNotOptimize(open_ledger(store->workspace()));
        state.PauseTiming();
        store.reset();
        state.ResumeTiming();
    }
    state.SetLabel(fmt::format("{} outages looked into and booked", outages));
}
BENCHMARK(first_opening)->Unit(benchmark::kMillisecond)->Iterations(1);

void opening_again(benchmark::State& state)
{
    Store store;
    std::size_t const rows = open_ledger(store.workspace());
    for (auto _ : state)
        benchmark::DoNotOptimize(open_ledger(store.workspace()));
    state.SetLabel(fmt::format("{} outages, {} rows", outages, rows));
}
BENCHMARK(opening_again)->Unit(benchmark::kMillisecond);

} // namespace
