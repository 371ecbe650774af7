#include "media/manifest.h"
#include "media/set_names.h"
#include "media/set_prune.h"
#include "media/stick_folder.h"
#include "media/stick_set.h"
#include "json/read.h"
#include <fmt/format.h>
#include <set>

namespace isochore::media {
namespace {

using Code = Error::Code;
using Phase = WriteProgress::Phase;
constexpr int highest_number = 9'999'999;

Result<void> check_files(std::vector<SetFile> const& files)
{
    std::set<std::string_view> names;
    std::size_t total = 0;
    if (files.empty() || files.size() > most_files)
        return fail(Code::invalid_input, "files",
                    fmt::format("a set holds 1 to {} files, not {}", most_files, files.size()));
    for (auto const& file : files) {
        if (!is_safe_name(file.name) || file.name == manifest_name)
            return fail(Code::invalid_input, file.name,
                        fmt::format("\"{}\" is not a name every system can store: use up to 8 and 3 of A-Z, "
                                    "0-9, _ and -",
                                    file.name));
        if (!names.insert(file.name).second)
            return fail(Code::invalid_input, file.name, fmt::format("\"{}\" is there twice", file.name));
        if (file.bytes.size() > most_file_bytes)
            return fail(Code::invalid_input, file.name,
                        fmt::format("{} has {} bytes; at most {} are allowed", file.name, file.bytes.size(),
                                    most_file_bytes));
        total += file.bytes.size();
    }
    if (total > most_set_bytes)
        return fail(Code::invalid_input, "files",
                    fmt::format("the set has {} bytes; at most {} are allowed", total, most_set_bytes));
    return {};
}

/// One write, step after step; each step returns the first failure.
class Writer {
public:
    Writer(disk::Disk& disk, Path target, std::vector<SetFile> const& files, Progress const& progress)
        : m_disk(disk), m_target(std::move(target)), m_files(files), m_progress(progress)
    {
    }

    [[nodiscard]] Result<WrittenSet> run(Signer const& signer, std::string const& made_at)
    {
        if (auto const ready = check_files(m_files); !ready)
            return tl::unexpected(ready.error());
        if (auto const made = make_folders(); !made)
            return tl::unexpected(made.error());
        auto written = fill(signer, made_at);
        if (!written) {
            // Best effort: what stays behind has no manifest and is ignored, then removed by the next write.
            (void)remove_set(m_disk, m_set);
            return written;
        }
        prune(*written);
        return written;
    }

private:
    [[nodiscard]] Result<void> step(Phase phase, std::string_view file)
    {
        WriteProgress const now{phase, m_done++, m_files.size() * 2 + 3, std::string(file)};
        if (m_progress && !m_progress(now))
            return fail(Code::denied, m_target.string(),
                        "writing was cancelled; the set that was there before is unchanged");
        return {};
    }

    [[nodiscard]] Result<void> make_folders()
    {
        auto folder = find_stick_folder(m_disk, m_target);
        if (!folder && folder.error().code == Code::not_found) {
            if (auto const made = m_disk.make_directory(m_target / stick_folder); !made)
                return made;
            folder = find_stick_folder(m_disk, m_target);
        }
        if (!folder)
            return tl::unexpected(folder.error());
        // Also where the folder was there: an earlier write may have failed between making and flushing it.
        if (auto const flushed = m_disk.flush_directory(m_target); !flushed)
            return flushed;
        if (folder->highest >= highest_number)
            return fail(Code::out_of_range, folder->path.string(),
                        "the set numbers are used up; remove the folder after keeping what is needed");
        m_name = set_name(folder->highest + 1);
        m_set = folder->path / m_name;
        if (auto const made = m_disk.make_directory(m_set); !made)
            return made;
        return m_disk.flush_directory(folder->path);
    }

    [[nodiscard]] Result<void> write_all()
    {
        for (auto const& file : m_files) {
            if (auto const go = step(Phase::writing, file.name); !go)
                return go;
            if (auto const made = m_disk.create(m_set / file.name, file.bytes); !made)
                return made;
        }
        if (auto const go = step(Phase::flushing, {}); !go)
            return go;
        return m_disk.flush_folder(m_set);
    }

    [[nodiscard]] Result<void> read_back(std::string const& name, std::string const& bytes)
    {
        auto const back = m_disk.read_uncached(m_set / name, bytes.size());
        if (!back)
            return tl::unexpected(back.error());
        if (*back != bytes)
            return fail(Code::corrupt, (m_set / name).string(),
                        fmt::format("{} came back from the stick changed; do not use this stick", name));
        return {};
    }

    [[nodiscard]] Result<Manifest> read_back_all(std::string const& made_at)
    {
        Manifest manifest;
        manifest.set = m_name;
        manifest.made_at = made_at;
        for (auto const& file : m_files) {
            if (auto const go = step(Phase::reading_back, file.name); !go)
                return tl::unexpected(go.error());
            if (auto const same = read_back(file.name, file.bytes); !same)
                return tl::unexpected(same.error());
            manifest.files.push_back({file.name, file.bytes.size(), sha256_hex(file.bytes)});
        }
        return manifest;
    }

    /// The manifest is the one write that turns a pile of files into a set.
    [[nodiscard]] Result<void> seal(std::string const& text)
    {
        std::string const name(manifest_name);
        if (auto const made = m_disk.create(m_set / name, text); !made)
            return made;
        if (auto const flushed = m_disk.flush_file(m_set / name); !flushed)
            return flushed;
        if (auto const flushed = m_disk.flush_directory(m_set); !flushed)
            return flushed;
        return read_back(name, text);
    }

    [[nodiscard]] Result<WrittenSet> fill(Signer const& signer, std::string const& made_at)
    {
        if (auto const written = write_all(); !written)
            return tl::unexpected(written.error());
        auto const manifest = read_back_all(made_at);
        if (!manifest)
            return tl::unexpected(manifest.error());
        if (auto const go = step(Phase::signing, manifest_name); !go)
            return tl::unexpected(go.error());
        auto const text = write_manifest(*manifest, signer);
        if (!text)
            return tl::unexpected(text.error());
        if (auto const sealed = seal(*text); !sealed)
            return tl::unexpected(sealed.error());
        WrittenSet done;
        done.set = m_name;
        done.made_at = made_at;
        done.key = signer.public_key_hex;
        done.files = m_files.size();
        for (auto const& file : m_files)
            done.bytes += file.bytes.size();
        return done;
    }

    /// The new set is whole: from here nothing is an error, only a note.
    void prune(WrittenSet& written)
    {
        (void)step(Phase::pruning, {});
        auto const report = prune_sets(m_disk, m_target);
        written.pruned = report.removed;
        written.notes.insert(written.notes.end(), report.notes.begin(), report.notes.end());
    }

    disk::Disk& m_disk;
    Path m_target, m_set;
    std::string m_name;
    std::vector<SetFile> const& m_files;
    Progress const& m_progress;
    std::size_t m_done = 0;
};

} // namespace

char const* phase_name(WriteProgress::Phase phase)
{
    switch (phase) {
    case Phase::reading:
        return "reading";
    case Phase::writing:
        return "writing";
    case Phase::flushing:
        return "flushing";
    case Phase::reading_back:
        return "reading back";
    case Phase::signing:
        return "signing";
    case Phase::pruning:
        return "removing old sets";
    }
    return "writing";
}

Result<WrittenSet> write_set(disk::Disk& disk, Path const& target, std::vector<SetFile> const& files,
                             Signer const& signer, std::string const& made_at, Progress const& progress)
{
    return Writer(disk, target, files, progress).run(signer, made_at);
}

} // namespace isochore::media
