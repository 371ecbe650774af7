#pragma once
#include "disk/disk.h"
#include "files/profile_file.h"
#include "files/profile_signing.h"
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace isochore::files {

/// One revision of one model in a library folder.
struct LibraryEntry {
    std::string file;   ///< its name in the folder
    disk::Path folder;  ///< where it lies
    std::string sha256; ///< of the file's bytes
    model::Profile profile;
    std::vector<Error> faults; ///< what check_profile finds; empty for one fit for use
    /// Of each sign-off, where whoever read the library could verify them; empty where not.
    std::vector<SignatureState> signatures;
    bool newest = false; ///< no higher revision of this model is in the library
    /// The index, made once when the file is read: the folded text that a search looks through, and the
    /// value of every facet by its path.
    std::string found_by;
    std::map<std::string, std::string, std::less<>> facets;
};

/// A folder of profiles: *.json, one revision a file. "kd-41.json" as supplied, "kd-41.r2.s3.json" as saved
/// here (revision 2, saved the third time).
struct ProfileLibrary {
    std::vector<LibraryEntry> entries; ///< by id, then revision
    std::vector<Error> errors;         ///< files that could not be read or contradict one another
    bool cancelled = false;            ///< it holds only what was read until then
    [[nodiscard]] LibraryEntry const* find(std::string_view id, int revision = 0) const; ///< 0: the newest
    /// All revisions of one model, oldest first.
    [[nodiscard]] std::vector<LibraryEntry const*> revisions(std::string_view id) const;
    /// The newest revision of it that is released, whatever stands above it; nothing where none is.
    [[nodiscard]] LibraryEntry const* released(std::string_view id) const;
};

/// Told how far slow work over many files has come; false cancels what is left. May be empty.
using Advance = std::function<bool(std::size_t done, std::size_t total, std::string_view file)>;

/// Reads all of a folder. A file that cannot be read is an error in the list, never a reason to stop. Of two
/// saves of one revision the later one counts, unless it changed what was already checked or released: then
/// the earlier stands and the later is reported. Cancelled, it holds what was read so far, and an error
/// `denied`.
[[nodiscard]] ProfileLibrary read_library(disk::Disk& disk, disk::Path const& folder,
                                          Advance const& advance = {});

/// The same of several folders as one library: what comes with the program first, what was made here after
/// it. A folder that is not there yet is empty. Files whose bytes are those of an earlier reading are taken
/// from it as they were checked and verified then.
[[nodiscard]] ProfileLibrary read_library(disk::Disk& disk, std::span<disk::Path const> folders,
                                          ProfileLibrary const& before = {}, Advance const& advance = {});

/// Verifies every signature that was not yet: their states, and those that do not fit as faults.
void verify_signatures(ProfileLibrary& library, Verifier const& verify);

/// Puts a profile into the folder under a new name, flushed, and only then removes the save it replaces.
/// Returns the file's name. Errors: denied where a checked or released revision would change; io.
[[nodiscard]] Result<std::string> store_profile(disk::Disk& disk, disk::Path const& folder,
                                                model::Profile const& profile);

/// The same against a library that was read already and may hold more than this folder. Only a save of this
/// folder is ever removed.
[[nodiscard]] Result<std::string> store_profile(disk::Disk& disk, disk::Path const& folder,
                                                model::Profile const& profile, ProfileLibrary const& library);

/// The name under which the next save of a revision goes into a folder: one that was never used.
[[nodiscard]] std::string next_save(disk::Disk& disk, disk::Path const& folder, model::Profile const& profile,
                                    ProfileLibrary const& library);

/// What a person narrows the list by. Every word of `text` must be found; every facet must match.
struct LibraryFilter {
    std::string text;
    std::map<std::string, std::string, std::less<>> facets; ///< path ("rating.voltage", "status") to value
    bool newest_only = true;
};
[[nodiscard]] std::vector<LibraryEntry const*> search(ProfileLibrary const& library,
                                                      LibraryFilter const& filter);

/// One way to narrow, with how many entries each value would leave.
struct Facet {
    std::string path, label;
    std::vector<std::pair<std::string, int>> values;
};
[[nodiscard]] std::vector<Facet> facets(std::vector<LibraryEntry const*> const& entries);
/// The facets of a library as narrowed by a filter, each counted as if it were not set itself: so that every
/// other choice of it says what it would leave.
[[nodiscard]] std::vector<Facet> facets(ProfileLibrary const& library, LibraryFilter const& filter);

} // namespace isochore::files
