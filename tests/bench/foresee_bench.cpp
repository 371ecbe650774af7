// One key typed: the value judged and the calculation behind it worked out anew, for each of those that
// follow the typing, against the 6 ms of one frame (session/foresee.h). Prints figures, decides nothing.
#include "bench_store.h"
#include "session/foresee.h"
#include <benchmark/benchmark.h>

using namespace isochore;
using namespace isochore::session;

namespace {

constexpr double frame_s = 6e-3;

/// An outage of the demo breaker with what the three calculations need.
class Store {
public:
    Store() : m_outage(m_store.begin()), m_state(m_outage->state()) {}

    [[nodiscard]] Context context() const { return {m_outage->checklists(), m_outage->profile(), m_state}; }
    /// As recorded: the locks of the steps are of no matter here.
    void answer(char const* step, char const* value) { record(step).answer = value; }
    void type(char const* step, char const* value) { record(step).typed = value; }

private:
    model::StepRecord& record(char const* step)
    {
        auto& record = m_state.records[step];
        record.status = model::StepStatus::done;
        return record;
    }

    bench::EmptyStore m_store;
    std::unique_ptr<Outage> m_outage;
    model::JobState m_state;
};

/// Types `value` at `step`: the keypad's whole work for one key, but for drawing it.
void one_key(benchmark::State& state, Store const& store, char const* step, std::string const& value,
             char const* calc)
{
    model::Step const* source = store.context().checklists.step(step);
    std::string worked;
    for (auto _ : state) {
        auto const judged = evaluate_value(store.context(), *source, value);
        auto const seen = foresee(store.context(), *source, value);
        benchmark::DoNotOptimize(judged.verdict.data());
        worked = seen ? seen->step->call->calc : std::string();
    }
    if (worked != calc)
        state.SkipWithError(("nothing was foreseen by " + std::string(calc)).c_str());
    // Time of one key as a share of the frame: iterations / (time) inverted, over 6 ms.
    state.counters["share_of_frame"] =
        benchmark::Counter(frame_s * static_cast<double>(state.iterations()),
                           benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

void resistor_follows_the_lead(benchmark::State& state)
{
    Store store;
    store.answer("prepare.trip_output", "every");
    store.type("prepare.output_rating", "200 mA");
    one_key(state, store, "prepare.trip_lead", "60 m", "input.resistor");
}

void chain_follows_the_pipe(benchmark::State& state)
{
    Store store;
    store.type("prepare.port_thread", "G 1/2 female");
    store.answer("prepare.adapter", "reduce-g12-g38");
    store.answer("prepare.way", "run");
    one_key(state, store, "prepare.pipe_length", "1200 mm", "fitting.chain");
}

void load_check_follows_the_reading(benchmark::State& state)
{
    Store store;
    store.answer("prove.load_when", "now");
    store.answer("currents.kind", "multi");
    store.answer("currents.full", "2000:5");
    store.answer("currents.terminals", "X1-X5");
    store.answer("currents.path", "direct");
    store.type("currents.turns", "1");
    store.type("prove.load", "400 A");
    one_key(state, store, "prove.secondary", "1.004 A", "ct.load_check");
}

BENCHMARK(resistor_follows_the_lead)->Unit(benchmark::kMicrosecond);
BENCHMARK(chain_follows_the_pipe)->Unit(benchmark::kMicrosecond);
BENCHMARK(load_check_follows_the_reading)->Unit(benchmark::kMicrosecond);

} // namespace
