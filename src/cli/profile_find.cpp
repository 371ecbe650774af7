#include "cli/profile_find.h"
#include "files/profile_signing.h"
#include "quantity/near_names.h"
#include "seal/keys.h"
#include "json/read.h"
#include <charconv>
#include <fmt/format.h>

namespace isochore::cli {
namespace {

using Code = Error::Code;

/// What there is to name instead: the revisions of the model, or the models.
std::vector<std::string> names_like(files::ProfileLibrary const& library, std::string const& id)
{
    std::vector<std::string> names;
    for (auto const* entry : library.revisions(id))
        names.push_back(fmt::format("{}:{}", id, entry->profile.revision));
    if (names.empty())
        for (auto const& entry : library.entries)
            names.push_back(entry.profile.id);
    return names;
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
        for (auto& fault : files::broken_signatures(entry.profile, entry.file, seal::signature_holds))
            report.errors.push_back(std::move(fault));
    }
    entry.faults = std::move(report.errors);
    return read;
}

} // namespace

Result<RevisionName> split_name(std::string const& name)
{
    auto const colon = name.find(':');
    RevisionName split{name.substr(0, colon), 0};
    if (colon == std::string::npos)
        return split;
    char const* const end = name.data() + name.size();
    auto const [stop, problem] = std::from_chars(name.data() + colon + 1, end, split.revision);
    if (problem != std::errc{} || stop != end || split.revision < 1)
        return fail(Code::invalid_input, name, "after the colon stands a revision, a whole number from 1");
    return split;
}

tl::unexpected<Error> no_such_profile(files::ProfileLibrary const& library, RevisionName const& name,
                                      std::string const& where)
{
    auto const asked = name.revision ? fmt::format("{}:{}", name.id, name.revision) : name.id;
    return fail(Code::not_found, asked,
                "there is no such profile in " + where + near_it(asked, names_like(library, name.id)));
}

bool names_a_file(std::string const& name)
{
    return name.ends_with(".json") || name.find('/') != std::string::npos;
}

Result<files::LibraryEntry> read_profile_file(disk::Disk& disk, disk::Path const& file)
{
    auto const read = read_file(disk, file);
    if (!read)
        return tl::unexpected(read.error());
    return read->entry;
}

std::vector<disk::Path> profile_folders(Places const& places, ProfileOptions const& o)
{
    if (!o.folder.empty())
        return {o.folder};
    return {places.folders().profiles, places.data_folder() / "profiles"};
}

files::ProfileLibrary library_read(disk::Disk& disk, Places const& places, ProfileOptions const& o)
{
    auto library = o.folder.empty()
                       ? files::read_library(disk, profile_folders(places, o))
                       : files::read_library(disk, disk::Path(o.folder)); // one that was named must be there
    files::verify_signatures(library, seal::signature_holds);
    return library;
}

Result<disk::Path> writable_profiles(disk::Disk& disk, Places const& places, ProfileOptions const& o)
{
    disk::Path const folder = profile_folders(places, o).back();
    if (o.folder.empty())
        for (auto const& needed : {places.data_folder(), folder})
            if (auto const made = disk.make_directory(needed); !made)
                return tl::unexpected(made.error());
    if (auto const items = disk.list(folder); !items)
        return tl::unexpected(items.error());
    return folder;
}

files::LibraryFilter library_filter(ProfileOptions const& o)
{
    files::LibraryFilter filter;
    filter.newest_only = !o.all;
    for (auto const& word : o.names)
        filter.text += word + " ";
    filter.facets = o.facets;
    return filter;
}

Result<void> unknown_facet(files::ProfileLibrary const& library, files::LibraryFilter const& filter)
{
    files::LibraryFilter all;
    all.newest_only = filter.newest_only;
    for (auto const& facet : files::facets(library, all)) {
        auto const wanted = filter.facets.find(facet.path);
        if (wanted == filter.facets.end())
            continue;
        std::string there;
        bool known = false;
        for (auto const& [value, count] : facet.values) {
            known = known || value == wanted->second;
            there += (there.empty() ? "" : ", ") + value;
        }
        if (!known)
            return fail(Code::not_found, facet.path,
                        fmt::format("no profile has \"{}\"; there is {}", wanted->second, there));
    }
    return {};
}

Result<files::LibraryEntry> find_profile(disk::Disk& disk, Places const& places, ProfileOptions const& o,
                                         std::string const& name)
{
    if (names_a_file(name)) {
        auto const read = read_file(disk, name);
        if (!read)
            return tl::unexpected(read.error());
        if (!read->understood) // half a profile is nothing to compare, derive from or sign
            return tl::unexpected(read->entry.faults.front());
        return read->entry;
    }
    auto const named = split_name(name);
    if (!named)
        return tl::unexpected(named.error());
    auto const library = library_read(disk, places, o);
    auto const* entry = library.find(named->id, named->revision);
    if (!entry)
        return no_such_profile(library, *named, o.folder.empty() ? "the library" : o.folder);
    return *entry;
}

} // namespace isochore::cli
