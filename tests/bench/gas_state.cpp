// Speed of the equation of state. Prints figures, decides nothing. States are spread over what a breaker
// meets in the field: 250 K to 330 K, 0.1 MPa to 0.9 MPa, all gas.
#include "gas/saturation.h"
#include "gas/state.h"
#include <benchmark/benchmark.h>
#include <vector>

using namespace isochore::gas;

namespace {

struct State {
    double temperature_k, pressure_pa, density_kg_m3;
};

std::vector<State> states()
{
    std::vector<State> all;
    for (int i = 0; i < 64; ++i)
        for (int j = 0; j < 16; ++j) {
            double const t = 250.0 + 80.0 * i / 63.0;
            double const p = 1e5 + 8e5 * j / 15.0;
            if (auto const rho = density_kg_m3(Species::sf6, t, p))
                all.push_back({t, p, *rho});
        }
    return all;
}

std::vector<State> const& field()
{
    static std::vector<State> const all = states();
    return all;
}

// A fixed chain of 1,000 dependent multiplications: what the machine gives while others use it. Hold the
// other figures against this one.
void reference_loop(benchmark::State& run)
{
    for (auto _ : run) {
        double x = 1.0;
        benchmark::DoNotOptimize(x);
        for (int i = 0; i < 1000; ++i)
            x *= 1.0000001;
        benchmark::DoNotOptimize(x);
    }
}
BENCHMARK(reference_loop);

void density_cold(benchmark::State& run)
{
    std::size_t i = 0;
    for (auto _ : run) {
        auto const& s = field()[i++ % field().size()];
        benchmark::DoNotOptimize(density_kg_m3(Species::sf6, s.temperature_k, s.pressure_pa));
    }
}
BENCHMARK(density_cold);

// As a logger or a Monte Carlo run meets it: a new pressure at the temperature kept, from a density close by.
void density_warm(benchmark::State& run)
{
    std::size_t i = 0;
    auto const gas = GasAt::at(Species::sf6, 290.0);
    double near = 0.0;
    for (auto _ : run) {
        double const p = 6e5 + 10.0 * static_cast<double>(i++ % 100);
        near = *gas->density_kg_m3(p, near);
        benchmark::DoNotOptimize(near);
    }
}
BENCHMARK(density_warm);

// New temperature too, but a density close by is known.
void density_near(benchmark::State& run)
{
    std::size_t i = 0;
    for (auto _ : run) {
        auto const& s = field()[i++ % field().size()];
        auto const gas = GasAt::at(Species::sf6, s.temperature_k);
        benchmark::DoNotOptimize(gas->density_kg_m3(s.pressure_pa, s.density_kg_m3 * 1.0001));
    }
}
BENCHMARK(density_near);

void pressure_cold(benchmark::State& run)
{
    std::size_t i = 0;
    for (auto _ : run) {
        auto const& s = field()[i++ % field().size()];
        benchmark::DoNotOptimize(pressure_pa(Species::sf6, s.temperature_k, s.density_kg_m3));
    }
}
BENCHMARK(pressure_cold);

void pressure_kept(benchmark::State& run)
{
    std::size_t i = 0;
    auto const gas = GasAt::at(Species::sf6, 290.0);
    for (auto _ : run)
        benchmark::DoNotOptimize(gas->pressure_pa(30.0 + 0.01 * static_cast<double>(i++ % 1000)));
}
BENCHMARK(pressure_kept);

void saturation_exact(benchmark::State& run)
{
    std::size_t i = 0;
    for (auto _ : run)
        benchmark::DoNotOptimize(saturation(Species::sf6, 230.0 + 0.1 * static_cast<double>(i++ % 800)));
}
BENCHMARK(saturation_exact);

void liquefaction(benchmark::State& run)
{
    std::size_t i = 0;
    for (auto _ : run)
        benchmark::DoNotOptimize(
            saturation_at_density(Species::sf6, 25.0 + 0.1 * static_cast<double>(i++ % 300)));
}
BENCHMARK(liquefaction);

} // namespace
