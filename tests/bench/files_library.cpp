#include "disk/disk.h"
#include "files/profile_library.h"
#include <benchmark/benchmark.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <iterator>

using namespace isochore;

// A library of 5,000 models: what one keystroke of the search costs, beside reading all of it once.

namespace {

namespace fs = std::filesystem;
constexpr int models = 5000;

/// The demo model under other names, ratings and mechanisms.
fs::path library_folder()
{
    static fs::path const folder = [] {
        fs::path const made = fs::current_path() / "bench_files_library";
        fs::remove_all(made);
        fs::create_directories(made);
        std::ifstream in(std::string(ISOCHORE_SOURCE_DIR) + "/profiles/kd-41.json", std::ios::binary);
        std::string const text{std::istreambuf_iterator<char>(in), {}};
        files::FileReport report;
        auto profile = files::read_profile(text, "kd-41", report);
        char const* const mechanisms[] = {"spring", "hydraulic", "spring-hydraulic", "air"};
        char const* const voltages[] = {"72.5 kV", "145 kV", "245 kV", "420 kV"};
        for (int i = 0; i < models; ++i) {
            profile.id = fmt::format("m-{:04}", i);
            profile.title = fmt::format("M-{:04}, plate of bay {}", i, i % 97);
            profile.values["breaker.mechanism"].value = mechanisms[i % 4];
            profile.values["rating.voltage"].value = voltages[i / 4 % 4];
            std::ofstream(made / (profile.id + ".json"), std::ios::binary) << files::write_profile(profile);
        }
        return made;
    }();
    return folder;
}

files::ProfileLibrary const& library()
{
    static auto const read = files::read_library(*disk::system_disk(), library_folder());
    return read;
}

/// As the sheet does it: what is found, and every facet counted as if it were not set itself.
void one_keystroke(benchmark::State& state)
{
    files::LibraryFilter filter;
    filter.text = "bay 4";
    filter.facets["breaker.mechanism"] = "spring";
    std::size_t found = library().entries.size(); // read before the clock runs
    for (auto _ : state) {
        found = files::search(library(), filter).size();
        benchmark::DoNotOptimize(files::facets(library(), filter));
    }
    state.counters["found"] = static_cast<double>(found);
}
BENCHMARK(one_keystroke)->Unit(benchmark::kMicrosecond);

void find_one_model(benchmark::State& state)
{
    (void)library();
    for (auto _ : state)
        benchmark::DoNotOptimize(library().find("m-3777"));
}
BENCHMARK(find_one_model);

void read_all_of_it(benchmark::State& state)
{
    auto const disk = disk::system_disk();
    auto const folder = library_folder();
    for (auto _ : state)
        benchmark::DoNotOptimize(files::read_library(*disk, folder).entries.size());
}
BENCHMARK(read_all_of_it)->Unit(benchmark::kMillisecond)->Iterations(1);

/// After a draft was saved: one file is other than before.
void read_it_again(benchmark::State& state)
{
    auto const disk = disk::system_disk();
    disk::Path const folders[] = {library_folder()};
    auto before = files::read_library(*disk, folders);
    for (auto _ : state)
        before = files::read_library(*disk, folders, std::move(before));
    state.counters["models"] = static_cast<double>(before.entries.size());
}
BENCHMARK(read_it_again)->Unit(benchmark::kMillisecond)->Iterations(3);

} // namespace
