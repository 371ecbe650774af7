#include "disk/disk.h"
#include "files/profile_file.h"
#include "media/stick_set.h"
#include <algorithm>
#include <benchmark/benchmark.h>
#include <chrono>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <unistd.h>

using namespace isochore;

// A set of 1,000 profiles, against the least that a careful copy must do: write the same bytes, one sync, one
// uncached read. Both run in turn in one loop, so that the machine's moods meet both; what is reported is the
// ratio of their sums.

namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

std::vector<media::SetFile> thousand_profiles()
{
    std::ifstream in(std::string(ISOCHORE_SOURCE_DIR) + "/profiles/kd-41.json", std::ios::binary);
    std::string const text{std::istreambuf_iterator<char>(in), {}};
    std::vector<media::SetFile> files;
    for (int i = 1; i <= 1000; ++i)
        files.push_back({fmt::format("P{:07d}.JSN", i), text});
    return files;
}

/// A signature of the right form: signing once takes 30 µs and is not what is measured.
media::Signer signer()
{
    return {std::string(64, 'a'), [](std::string_view) { return std::string(128, 'b'); }};
}

double seconds(Clock::time_point from)
{
    return std::chrono::duration<double>(Clock::now() - from).count();
}

double written_set(disk::Disk& disk, fs::path const& folder, std::vector<media::SetFile> const& files)
{
    auto const begin = Clock::now();
    auto const written = media::write_set(disk, folder, files, signer(), "2025-03-01T08:00:00Z");
    double const took = seconds(begin);
    return written ? took : -1.0;
}

/// Copy, one sync, one uncached read, by the plainest calls there are.
double careful_copy(fs::path const& folder, std::vector<media::SetFile> const& files)
{
    auto const begin = Clock::now();
    fs::create_directory(folder);
    for (auto const& file : files) {
        int const fd = ::open((folder / file.name).c_str(), O_WRONLY | O_CREAT | O_EXCL, 0644);
        if (fd < 0 ||
            ::write(fd, file.bytes.data(), file.bytes.size()) != static_cast<ssize_t>(file.bytes.size()))
            return -1.0;
        ::close(fd);
    }
    int const at = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY);
    if (::syncfs(at) != 0)
        return -1.0;
    ::close(at);
    auto* const block = static_cast<char*>(std::aligned_alloc(4096, 1u << 16));
    std::size_t total = 0;
    for (auto const& file : files) {
        int const fd = ::open((folder / file.name).c_str(), O_RDONLY | O_DIRECT);
        ssize_t n = 0;
        while (fd >= 0 && (n = ::read(fd, block, 1u << 16)) > 0)
            total += static_cast<std::size_t>(n);
        ::close(fd);
    }
    std::free(block);
    benchmark::DoNotOptimize(total);
    return seconds(begin);
}

void write_a_thousand_profiles(benchmark::State& state)
{
    auto const disk = disk::system_disk();
    auto const files = thousand_profiles();
    auto const root = fs::current_path() / "bench_media_stick";
    double sets = 0.0, copies = 0.0;
    std::vector<double> ratios;
    for (auto _ : state) {
        fs::remove_all(root);
        fs::create_directories(root / "stick");
        ::sync();
        // In turn one and the other first: the second finds the file system's journal warm.
        bool const copy_first = ratios.size() % 2 == 0;
        double copy = copy_first ? careful_copy(root / "copy", files) : 0.0;
        double const set = written_set(*disk, root / "stick", files);
        if (!copy_first)
            copy = careful_copy(root / "copy", files);
        if (copy < 0.0 || set < 0.0) {
            state.SkipWithError("writing failed; run it in a folder on a real disk");
            break;
        }
        state.SetIterationTime(set);
        sets += set;
        copies += copy;
        ratios.push_back(set / copy);
    }
    fs::remove_all(root);
    if (ratios.empty())
        return;
    std::sort(ratios.begin(), ratios.end());
    state.counters["set_ms"] = sets / static_cast<double>(ratios.size()) * 1e3;
    state.counters["copy_ms"] = copies / static_cast<double>(ratios.size()) * 1e3;
    state.counters["ratio"] = sets / copies;
    state.counters["ratio_median"] = ratios[ratios.size() / 2];
}
BENCHMARK(write_a_thousand_profiles)->UseManualTime()->Unit(benchmark::kMillisecond)->Iterations(15);

void check_a_profile(benchmark::State& state)
{
    auto const text = thousand_profiles().front().bytes;
    for (auto _ : state) {
        files::FileReport report;
        auto const profile = files::read_profile(text, "p", report);
        benchmark::DoNotOptimize(files::check_profile(profile, "p").ok());
    }
}
BENCHMARK(check_a_profile)->Unit(benchmark::kMicrosecond);

} // namespace
