/// How long the record takes to become a PDF file. Target: 12 sheets in at most 100 ms.
#include "../report/sample_document.h"
#include "report/record_pdf.h"
#include "report/type.h"
#include <benchmark/benchmark.h>

using namespace isochore;

namespace {

void record_to_pdf(benchmark::State& state)
{
    auto const document = tests::sample_document(static_cast<int>(state.range(0)));
    std::size_t sheets = 0, bytes = 0;
    {
        report::Type type;
        sheets = report::record_sheets(document, type.measure()).size();
    }
    for (auto _ : state) {
        auto const pdf = report::record_pdf(document);
        if (!pdf)
            state.SkipWithError(pdf.error().detail.c_str());
        else
            bytes = pdf->size();
    }
    state.counters["sheets"] = static_cast<double>(sheets);
    state.counters["kB"] = static_cast<double>(bytes) / 1000.0;
    state.counters["s_per_sheet"] =
        benchmark::Counter(static_cast<double>(sheets),
                           benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(record_to_pdf)->Arg(1)->Arg(4)->Unit(benchmark::kMillisecond);

void record_laid_out(benchmark::State& state)
{
    auto const document = tests::sample_document(1);
    for (auto _ : state) {
        report::Type type;
        benchmark::DoNotOptimize(report::record_sheets(document, type.measure()));
    }
}
BENCHMARK(record_laid_out)->Unit(benchmark::kMillisecond);

void job_pack_to_pdf(benchmark::State& state)
{
    auto const pack = tests::sample_pack();
    for (auto _ : state)
        benchmark::DoNotOptimize(report::job_pack_pdf(pack));
}
BENCHMARK(job_pack_to_pdf)->Unit(benchmark::kMillisecond);

} // namespace
