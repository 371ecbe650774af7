#pragma once
#include "cli/commands.h"
#include <map>

/// Profiles from scripts. A profile is named by its id ("kd-41": the newest revision), by id and revision
/// ("kd-41:2"), or by a file ("./kd-41.json"). Exit codes as in commands.h.
namespace isochore::cli {

struct ProfileOptions {
    std::string profile, other;     ///< other: the second one of a comparison
    std::vector<std::string> names; ///< check: profiles or files; list, export: words to look for
    std::map<std::string, std::string, std::less<>> facets; ///< list, export: by the path of the facet
    std::string target;                                     ///< export: the folder written to
    std::string folder;             ///< of profiles; empty: the library's
    std::string who, to = "released";
    std::string pin_file; ///< release: whose first line is the PIN; "-": standard input
    int pin_fd = -1;      ///< release: a descriptor with the PIN instead
    std::string source;   ///< import: a table or a folder
    bool json = false, all = false, replace = false, complete = false, counts = false;
};

/// One line a model, newest revision; `all`: every revision; `counts`: instead how many each value of each
/// facet leaves. 1 where a file of the folder cannot be read.
int profile_list_command(Places const& places, ProfileOptions const& o, std::ostream& out);
/// Every fault of the profiles named, or of the whole folder, signatures included. 1 where there is one.
int profile_check_command(Places const& places, ProfileOptions const& o, std::ostream& out);
/// All values with where they come from, and who signed.
int profile_show_command(Places const& places, ProfileOptions const& o, std::ostream& out);
/// What follows from the values. 1 where something cannot be derived.
int profile_derive_command(Places const& places, ProfileOptions const& o, std::ostream& out);
/// Differences, physical ones first. 1 where a value is another one; 0 where only writing or sources differ.
int profile_compare_command(Places const& places, ProfileOptions const& o, std::ostream& out);
/// Takes a profile one step further (checked, released, withdrawn), signed with this tablet's key; where
/// people of this tablet have PINs, only with that of the person who answers. 1 where it has faults: then
/// nothing is written.
int profile_release_command(Places const& places, ProfileOptions const& o, std::ostream& out);
/// Writes profiles into "profiles" of a folder, each read back; nothing there is written over. 1 where one is
/// refused.
int profile_export_command(Places const& places, ProfileOptions const& o, std::ostream& out);
/// Takes drafts from a table of nameplates, or profiles from another folder. 1 where a row is refused.
int profile_import_command(Places const& places, ProfileOptions const& o, std::ostream& out);

} // namespace isochore::cli
