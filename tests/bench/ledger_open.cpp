// The gas ledger of a tablet with 1,000 outages, each with a fill: opened for the first time, when every
// outage is looked into, and again, when none went on since. Prints figures, decides nothing.
#include "session/gas_balance.h"
#include "session/workspace.h"
#include <benchmark/benchmark.h>
#include <filesystem>
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
        std::string name = (std::filesystem::temp_directory_path() / "isochore-ledger-XXXXXX").string();
        if (!mkdtemp(name.data()))
            throw std::runtime_error("no temporary folder");
        m_folder = name;
        disk::Path const source(ISOCHORE_SOURCE_DIR);
        auto opened =
            Workspace::open({m_folder, source / "checklists", source / "profiles"}, m_clock, *m_disk);
        if (!opened)
            throw std::runtime_error(opened.error().detail);
        m_workspace = std::move(*opened);
        for (int i = 0; i < outages; ++i)
            add_outage(i);
    }
    ~Store()
    {
        m_workspace.reset();
        std::filesystem::remove_all(m_folder);
    }
    Store(Store const&) = delete;
    Store& operator=(Store const&) = delete;

    [[nodiscard]] Workspace& workspace() { return *m_workspace; }

private:
    void add_outage(int i)
    {
        NewOutage setup;
        setup.facts = {{"station", "Alder Ferry"},
                       {"bay", "Q07"},
                       {"serial", fmt::format("41-{:04}", i)},
                       {"job_no", fmt::format("B {}", i)},
                       {"window", "2 h"}};
        setup.crew = {"N. Quill"};
        setup.who = "N. Quill";
        auto outage = m_workspace->begin("kd-41", setup);
        if (!outage)
            throw std::runtime_error(outage.error().detail);
        auto const kg = [](double value) { return Json{{"value", value}, {"unit", "kg"}, {"u", 0.02}}; };
        Json const results{{"mass_from_cylinder", kg(0.9)},
                           {"mass_into_breaker", kg(0.85)},
                           {"mass_in_hoses", kg(0.0)},
                           {"handling_loss", kg(0.05)}};
        auto const noted = (*outage)->note({{"type", "recorded"},
                                            {"step", "fill.account"},
                                            {"calc", "fill.account"},
                                            {"verdict", "pass"},
                                            {"inputs", {{"cylinder", fmt::format("C {}", i % 20)}}},
                                            {"result", {{"results", results}}}});
        if (!noted)
            throw std::runtime_error(noted.error().detail);
    }

    SetClock m_clock{1772438400000}; // 2026-03-02T08:00:00Z
    std::unique_ptr<disk::Disk> m_disk = disk::system_disk();
    std::filesystem::path m_folder;
    std::unique_ptr<Workspace> m_workspace;
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
