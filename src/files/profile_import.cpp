#include "files/profile_import.h"
#include "model/profile_lifecycle.h"
#include "json/read.h"

namespace isochore::files {
namespace {

/// One import, file after file; what was created is not durable before `finish`.
class Import {
public:
    Import(disk::Disk& disk, disk::Path const& into, ProfileLibrary const& library, Verifier const& verify)
        : m_disk(disk), m_into(into), m_library(library), m_verify(verify)
    {
    }

    void take(LibraryEntry const& entry)
    {
        ImportLine line{entry.file, entry.profile.id, entry.profile.revision, false, {}};
        line.why = why_not(entry.profile, entry.file);
        if (line.why.empty()) {
            auto const name = next_save(m_disk, m_into, entry.profile, m_library);
            auto const text = write_profile(entry.profile);
            if (auto const made = m_disk.create(m_into / name, text); made) {
                line.taken = true;
                line.status = entry.profile.status;
                line.sha256 = sha256_hex(text);
            } else
                line.why = made.error().detail;
        }
        m_lines.push_back(std::move(line));
    }
    void refuse(std::string file, std::string why)
    {
        m_lines.push_back({std::move(file), {}, 0, false, why});
    }

    /// Durable, and only then do the saves go that were replaced: left behind they do not count.
    std::vector<ImportLine> finish()
    {
        bool any = false;
        for (auto const& line : m_lines)
            any = any || line.taken;
        auto const flushed = any ? m_disk.flush_folder(m_into) : Result<void>();
        for (auto& line : m_lines)
            if (line.taken && !flushed)
                line.taken = false, line.why = flushed.error().detail;
            else if (auto const* old = line.taken ? m_library.find(line.id, line.revision) : nullptr;
                     old && old->folder == m_into)
                (void)m_disk.remove(m_into / old->file);
        return std::move(m_lines);
    }

private:
    [[nodiscard]] std::string why_not(model::Profile const& profile, std::string const& file) const
    {
        auto const* there = m_library.find(profile.id, profile.revision);
        if (there && write_profile(there->profile) == write_profile(profile))
            return std::string(import_known);
        if (m_verify)
            if (auto const broken = broken_signatures(profile, file, m_verify); !broken.empty())
                return broken.front().detail;
        if (there)
            if (auto const may = model::may_replace(there->profile, profile); !may)
                return may.error().detail;
        return {};
    }

    disk::Disk& m_disk;
    disk::Path const& m_into;
    ProfileLibrary const& m_library;
    Verifier const& m_verify;
    std::vector<ImportLine> m_lines;
};

} // namespace

std::vector<ImportLine> import_profiles(disk::Disk& disk, disk::Path const& from, disk::Path const& into)
{
    return import_profiles(disk, from, into, read_library(disk, into), {});
}

std::vector<ImportLine> import_profiles(disk::Disk& disk, disk::Path const& from, disk::Path const& into,
                                        ProfileLibrary const& library, Verifier const& verify,
                                        Advance const& advance)
{
    // Reading is one half of the work, storing the other.
    auto const half = [&](std::size_t first) -> Advance {
        if (!advance)
            return {};
        return [&advance, first](std::size_t done, std::size_t total, std::string_view file) {
            return advance(first * total + done, 2 * total, file);
        };
    };
    auto const source = read_library(disk, from, half(0));
    Import import(disk, into, library, verify);
    bool go_on = !source.cancelled;
    for (auto const& error : source.errors)
        import.refuse(error.where, error.detail);
    auto const storing = half(1);
    std::size_t done = 0;
    for (auto const& entry : source.entries) {
        go_on = go_on && (!storing || storing(done++, source.entries.size(), entry.file));
        if (go_on)
            import.take(entry);
        else
            import.refuse(entry.file, "it was cancelled before this file");
    }
    return import.finish();
}

} // namespace isochore::files
