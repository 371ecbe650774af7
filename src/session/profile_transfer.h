#pragma once
#include "files/profile_csv.h"
#include "files/profile_import.h"
#include "session/profile_note.h"
#include "session/workspace.h"
#include <span>

/// Profiles in and out of the library: folders of profiles and tables of nameplates.
namespace isochore::session {

/// How a table of nameplates is taken.
struct TableImport {
    std::string author;
    bool complete = false; ///< add what standards say, unconfirmed and with its source
    bool replace = false;  ///< put drafts in the place of drafts
};

/// Rows as drafts into a folder; every row says what became of it. `library` is what they are held against.
/// Touches no journal and may run beside the window, while nobody forgets the library.
/// Errors: missing_input (no author), as read (the table, or what standards add).
[[nodiscard]] Result<files::NameplateImport> import_table(disk::Disk& disk, disk::Path const& table,
                                                          disk::Path const& help, disk::Path const& into,
                                                          files::ProfileLibrary const& library,
                                                          std::string_view day, TableImport const& how,
                                                          files::Advance const& advance = {});

/// The same into the library of the tablet. Errors: io beside the above.
[[nodiscard]] Result<files::NameplateImport> import_table(Workspace& workspace, disk::Path const& table,
                                                          TableImport const& how);

/// Every profile of a folder (or of its "profiles" folder, where it has one) into `into`. A signature that
/// does not fit is refused. As import_table, beside the window. Errors: io, not_found.
[[nodiscard]] Result<std::vector<files::ImportLine>> import_folder(disk::Disk& disk, disk::Path const& from,
                                                                   disk::Path const& into,
                                                                   files::ProfileLibrary const& library,
                                                                   files::Advance const& advance = {});
/// The same into the library of the tablet. Errors: io beside the above.
[[nodiscard]] Result<std::vector<files::ImportLine>> import_folder(Workspace& workspace,
                                                                   disk::Path const& from);

/// What a table or a folder brought, for the journal. Beside the window as import_table.
[[nodiscard]] std::vector<ProfileNote> notes_of(files::NameplateImport const& import);
[[nodiscard]] std::vector<ProfileNote> notes_of(std::span<files::ImportLine const> lines);
/// Enters it, and has the library read anew when it is next asked for. Errors: io.
[[nodiscard]] Result<void> note_import(Workspace& workspace, std::span<ProfileNote const> notes,
                                       std::string_view who, disk::Path const& from);

/// Names of the tables (*.csv) in a folder.
[[nodiscard]] std::vector<std::string> tables_in(Workspace& workspace, disk::Path const& folder);

/// Revisions as files into "profiles" of a folder, each read back. Nothing there is written over: what is
/// there with other bytes is refused line by line. Beside the window as import_table; cancelled, the lines
/// say what was written and what was not. Errors: io.
[[nodiscard]] Result<std::vector<files::ImportLine>>
export_profiles(disk::Disk& disk, disk::Path const& target,
                std::span<files::LibraryEntry const* const> entries, files::Advance const& advance = {});

} // namespace isochore::session
