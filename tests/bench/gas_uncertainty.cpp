// Speed of what the crew waits for: a whole top-up with 20,000 draws, and a long leak series refitted.
#include "calc/registry.h"
#include "uncertainty/line_fit.h"
#include "uncertainty/random.h"
#include "json/read.h"
#include <benchmark/benchmark.h>
#include <cmath>
#include <vector>

using namespace isochore;

namespace {

void topup_20000_draws(benchmark::State& run)
{
    auto const inputs =
        read_json(R"({"gas":"SF6","nominal_density":"40 kg/m3","volume":"300 l","temperature":"11.5 degC",
        "pressure":"4.61 bar g","baro":"101.325 kPa","uncertainties":{"pressure":{"class":"0.6 %","span":"1.0 MPa"},
        "temperature":{"limit":"0.5 K"},"volume":"1 %","baro":"0.3 kPa"}})",
                  "inputs");
    for (auto _ : run)
        benchmark::DoNotOptimize(calc::run("fill.topup", *inputs));
}
BENCHMARK(topup_20000_draws)->Unit(benchmark::kMillisecond);

void leak_line_10000_readings(benchmark::State& run)
{
    uncertainty::Random random(1);
    std::vector<double> t, y;
    for (int i = 0; i < 10000; ++i) {
        t.push_back(i);
        y.push_back(40.0 - 1e-6 * i + 1e-3 * random.normal());
    }
    for (auto _ : run)
        benchmark::DoNotOptimize(uncertainty::fit_line(t, y, 0.0));
}
BENCHMARK(leak_line_10000_readings)->Unit(benchmark::kMicrosecond);

} // namespace
