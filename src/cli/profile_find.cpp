#include "cli/profile_find.h"
#include "files/profile_signing.h"
#include "seal/keys.h"
#include "json/read.h"
#include <charconv>
#include <fmt/format.h>

namespace isochore::cli {
namespace {

using Code = Error::Code;

/// The revision after the colon; 0 without one: the newest.
Result<int> revision_of(std::string const& name)
{
    auto const colon = name.find(':');
    if (colon == std::string::npos)
        return 0;
    int revision = 0;
    char const* const end = name.data() + name.size();
    auto const [stop, problem] = std::from_chars(name.data() + colon + 1, end, revision);
    if (problem != std::errc{} || stop != end || revision < 1)
        return fail(Code::invalid_input, name, "after the colon stands a revision, a whole number from 1");
    return revision;
}

struct ReadFile {
    files::LibraryEntry entry;
    bool understood = false; ///< the text could be read as a profile, whatever its check says
};

Result<ReadFile> read_file(disk::Disk& disk, disk::Path const& file)
{
    auto const text = disk.read(file, most_profile_bytes);
    if (!text)
        return tl::unexpected(text.error());
    ReadFile read;
    auto& entry = read.entry;
    entry.file = file.filename().string();
    entry.sha256 = sha256_hex(*text);
    files::FileReport report;
    entry.profile = files::read_profile(*text, entry.file, report);
    read.understood = report.ok();
    if (read.understood) {
        report = files::check_profile(entry.profile, entry.file);
        for (auto& fault : broken_signatures(entry.profile, entry.file))
            report.errors.push_back(std::move(fault));
    }
    entry.faults = std::move(report.errors);
    return read;
}

} // namespace

bool names_a_file(std::string const& name)
{
    return name.ends_with(".json") || name.find('/') != std::string::npos;
}

std::vector<Error> broken_signatures(model::Profile const& profile, std::string_view name)
{
    std::vector<Error> faults;
    auto const states = files::check_signatures(profile, seal::signature_holds);
    for (std::size_t i = 0; i < states.size(); ++i)
        if (states[i] == files::SignatureState::broken)
            faults.push_back(
                {Code::corrupt, fmt::format("{}: signoffs[{}]", name, i),
                 fmt::format("the signature of {} does not fit what it signs", profile.signoffs[i].person)});
    return faults;
}

Result<files::LibraryEntry> read_profile_file(disk::Disk& disk, disk::Path const& file)
{
    auto const read = read_file(disk, file);
    if (!read)
        return tl::unexpected(read.error());
    return read->entry;
}

disk::Path profile_folder(Places const& places, ProfileOptions const& o)
{
    return o.folder.empty() ? places.folders().profiles : disk::Path(o.folder);
}

Result<files::LibraryEntry> find_profile(disk::Disk& disk, disk::Path const& folder, std::string const& name)
{
    if (names_a_file(name)) {
        auto const read = read_file(disk, name);
        if (!read)
            return tl::unexpected(read.error());
        if (!read->understood) // half a profile is nothing to compare, derive from or sign
            return tl::unexpected(read->entry.faults.front());
        return read->entry;
    }
    auto const revision = revision_of(name);
    if (!revision)
        return tl::unexpected(revision.error());
    auto const library = files::read_library(disk, folder);
    auto const* entry = library.find(name.substr(0, name.find(':')), *revision);
    if (!entry)
        return fail(Code::not_found, name, "there is no such profile in " + folder.string());
    files::LibraryEntry found = *entry;
    for (auto& fault : broken_signatures(found.profile, found.file))
        found.faults.push_back(std::move(fault));
    return found;
}

} // namespace isochore::cli
