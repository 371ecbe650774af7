#include "media/capacity_check.h"
#include "media/set_names.h"
#include "media/stick_folder.h"
#include <cstring>
#include <fmt/format.h>

namespace isochore::media {
namespace {

using Code = Error::Code;
using Phase = WriteProgress::Phase;
constexpr std::uint64_t piece_bytes = 8u << 20;
constexpr std::string_view test_folder = "CHECK";

/// The next of a row of numbers without pattern (SplitMix64, public domain, S. Vigna).
std::uint64_t next_number(std::uint64_t& state)
{
    std::uint64_t z = state += 0x9E3779B97F4A7C15;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
    return z ^ (z >> 31);
}

std::string piece(std::uint64_t seed, std::uint64_t number, std::uint64_t bytes)
{
    std::uint64_t state = seed + number * 0xD1B54A32D192ED03;
    std::string out(static_cast<std::size_t>(bytes), '\0');
    for (std::size_t at = 0; at < out.size(); at += sizeof state) {
        std::uint64_t const value = next_number(state);
        std::memcpy(out.data() + at, &value, std::min(sizeof value, out.size() - at));
    }
    return out;
}

/// How much of two texts agrees from the start.
std::uint64_t same_start(std::string const& a, std::string const& b)
{
    std::size_t n = 0;
    while (n < a.size() && n < b.size() && a[n] == b[n])
        ++n;
    return n;
}

class Check {
public:
    Check(disk::Disk& disk, Path folder, std::uint64_t bytes, std::uint64_t seed, Progress const& progress)
        : m_disk(disk), m_folder(std::move(folder)), m_bytes(bytes), m_seed(seed), m_progress(progress)
    {
    }

    Result<CapacityReport> run()
    {
        auto report = fill_and_read();
        for (std::uint64_t i = 1; i <= m_pieces; ++i)
            (void)m_disk.remove(m_folder / name(i));
        (void)m_disk.remove_directory(m_folder);
        return report;
    }

private:
    static std::string name(std::uint64_t number) { return fmt::format("T{:07d}.BIN", number); }

    [[nodiscard]] std::uint64_t size_of(std::uint64_t number) const
    {
        return std::min(piece_bytes, m_bytes - (number - 1) * piece_bytes);
    }

    [[nodiscard]] Result<void> step(Phase phase, std::uint64_t number)
    {
        auto const total = (m_bytes + piece_bytes - 1) / piece_bytes;
        if (m_progress && !m_progress({phase, m_done++, 2 * total, name(number)}))
            return fail(Code::denied, m_folder.string(), "the check was cancelled");
        return {};
    }

    /// Writes until all is written or the target is full.
    [[nodiscard]] Result<std::uint64_t> fill()
    {
        std::uint64_t written = 0;
        for (std::uint64_t i = 1; written < m_bytes; ++i) {
            if (auto const go = step(Phase::writing, i); !go)
                return tl::unexpected(go.error());
            ++m_pieces;
            auto made = m_disk.create(m_folder / name(i), piece(m_seed, i, size_of(i)));
            if (made)
                made = m_disk.flush_file(m_folder / name(i));
            if (!made) {
                (void)m_disk.remove(m_folder / name(i));
                --m_pieces;
                if (written == 0)
                    return tl::unexpected(made.error());
                break;
            }
            written += size_of(i);
        }
        return written;
    }

    [[nodiscard]] Result<CapacityReport> fill_and_read()
    {
        auto const written = fill();
        if (!written)
            return tl::unexpected(written.error());
        CapacityReport report{*written, 0, false, {}};
        for (std::uint64_t i = 1; i <= m_pieces; ++i) {
            if (auto const go = step(Phase::reading_back, i); !go)
                return tl::unexpected(go.error());
            auto const back = m_disk.read_uncached(m_folder / name(i), size_of(i));
            auto const same = back ? same_start(*back, piece(m_seed, i, size_of(i))) : 0;
            report.kept += same;
            if (same < size_of(i))
                break;
        }
        report.honest = report.kept == report.written;
        report.say =
            report.honest
                ? fmt::format("All {} MB came back as written.", report.written / 1'000'000)
                : fmt::format("Only the first {} MB of {} MB came back: it holds less than it claims, or "
                              "it is failing. Do not use it.",
                              report.kept / 1'000'000, report.written / 1'000'000);
        return report;
    }

    disk::Disk& m_disk;
    Path m_folder;
    std::uint64_t m_bytes, m_seed;
    Progress const& m_progress;
    std::uint64_t m_pieces = 0;
    std::size_t m_done = 0;
};

} // namespace

Result<CapacityReport> check_capacity(disk::Disk& disk, Path const& target, std::uint64_t bytes,
                                      std::uint64_t seed, Progress const& progress)
{
    auto folder = find_stick_folder(disk, target);
    if (!folder && folder.error().code == Code::not_found) {
        if (auto const made = disk.make_directory(target / stick_folder); !made)
            return tl::unexpected(made.error());
        folder = find_stick_folder(disk, target);
    }
    if (!folder)
        return tl::unexpected(folder.error());
    Path const place = folder->path / test_folder;
    if (disk.exists(place))
        return fail(Code::denied, place.string(),
                    "an earlier check was cut short; remove this folder, then try again");
    if (auto const made = disk.make_directory(place); !made)
        return tl::unexpected(made.error());
    return Check(disk, place, bytes, seed, progress).run();
}

} // namespace isochore::media
