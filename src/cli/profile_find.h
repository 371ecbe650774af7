#pragma once
#include "cli/profile_commands.h"
#include "files/profile_library.h"

namespace isochore::cli {

/// The largest profile file read.
inline constexpr std::size_t most_profile_bytes = 1u << 20;

/// Whether a name given on the command line is that of a file, not the id of a profile.
[[nodiscard]] bool names_a_file(std::string const& name);

/// "kd-41:2", or "kd-41" for the newest: revision 0. Errors: invalid_input.
struct RevisionName {
    std::string id;
    int revision = 0;
};
[[nodiscard]] Result<RevisionName> split_name(std::string const& name);
/// Refuses one that `where` does not hold, with those whose names come near.
[[nodiscard]] tl::unexpected<Error> no_such_profile(files::ProfileLibrary const& library,
                                                    RevisionName const& name, std::string const& where);

/// A profile file as read: what could be read of it, and all its faults, broken signatures among them.
/// Errors: only that the file cannot be read at all.
[[nodiscard]] Result<files::LibraryEntry> read_profile_file(disk::Disk& disk, disk::Path const& file);

/// The folders of the library, or the one the options name instead.
[[nodiscard]] std::vector<disk::Path> profile_folders(Places const& places, ProfileOptions const& o);
/// Those as one library.
[[nodiscard]] files::ProfileLibrary library_read(disk::Disk& disk, Places const& places,
                                                 ProfileOptions const& o);
/// The folder that new revisions go to: the one the options name, else that of the data folder, made where
/// it is not there. Errors: not_found, io.
[[nodiscard]] Result<disk::Path> writable_profiles(disk::Disk& disk, Places const& places,
                                                   ProfileOptions const& o);

/// The profile a name stands for: a file, an id, or an id with a revision.
/// Errors: not_found, invalid_input; corrupt or io where the file cannot be read as a profile.
[[nodiscard]] Result<files::LibraryEntry> find_profile(disk::Disk& disk, Places const& places,
                                                       ProfileOptions const& o, std::string const& name);

/// The words and facets of the command.
[[nodiscard]] files::LibraryFilter library_filter(ProfileOptions const& o);
/// Refuses a value of a facet that no profile of the library has, naming those there are. Errors: not_found.
[[nodiscard]] Result<void> unknown_facet(files::ProfileLibrary const& library,
                                         files::LibraryFilter const& filter);

} // namespace isochore::cli
