#pragma once
#include "files/nameplate_help.h"
#include "session/workspace.h"

/// Profiles in the making. What is typed is kept in the data folder value by value, so that nothing is lost
/// when the tablet dies; only a draft that is put into the library becomes one of its revisions.
namespace isochore::session {

struct ProfileDraft {
    std::string name; ///< of its file: "new-1", "kd-41.r2"
    model::Profile profile;
};

/// The path a fault of check_profile is about ("gas.warn"); empty where it is about the whole.
[[nodiscard]] std::string fault_path(Error const& fault);
/// A name for the library from a model's name: "KD 41/B" to "kd-41-b".
[[nodiscard]] std::string id_from_model(std::string_view model);

/// A new, empty one by this author, not kept yet.
[[nodiscard]] ProfileDraft new_draft(Workspace& workspace, std::string_view author);
/// A revision of the library copied as its model's next one, with what it came from as its parent.
/// Errors: not_found.
[[nodiscard]] Result<ProfileDraft> draft_of_revision(Workspace& workspace, std::string_view id, int revision,
                                                     std::string_view author);
/// A draft of the library to go on with. What is half done already goes before what is in the library.
/// Errors: not_found, denied (it is a draft no more).
[[nodiscard]] Result<ProfileDraft> edit_draft(Workspace& workspace, std::string_view id, int revision);

/// Keeps it as it is now, durable; earlier savings of it are removed. Errors: io.
[[nodiscard]] Result<void> keep_draft(Workspace& workspace, ProfileDraft const& draft);
/// All that are half done, by name; one that cannot be read is left out and left alone.
[[nodiscard]] std::vector<ProfileDraft> kept_drafts(Workspace& workspace);
[[nodiscard]] Result<void> drop_draft(Workspace& workspace, std::string_view name);

/// Puts it into the library as a draft, whatever its values still lack, and ends what was half done.
/// Returns the file's name. Errors: missing_input, invalid_input (id, title, author), denied (the id is
/// taken, or the revision is checked or released meanwhile), io.
[[nodiscard]] Result<std::string> store_draft(Workspace& workspace, ProfileDraft const& draft);

/// Pull-downs and what standards add, as the program's data folder has them. Errors: as read.
[[nodiscard]] Result<files::NameplateHelp> nameplate_help(Workspace& workspace);

} // namespace isochore::session
