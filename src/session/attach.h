#pragma once
#include "session/workspace.h"

namespace isochore::session {

/// Takes a photo or document into the attachments beside the store, by its SHA-256, and records name and
/// hash at an attach step. A file that cannot be read or kept changes nothing.
[[nodiscard]] Result<std::string> attach_file(Workspace& workspace, Outage& outage, std::string_view step,
                                              disk::Path const& file);

/// A file that an entry names and that is no longer beside the store as it was. The entry itself, with the
/// file's hash, stands whatever became of the file.
struct LostFile {
    std::string step, name, hash;
    bool missing = false; ///< else there, but not the bytes that were recorded, or not to be read
    /// "The file “a.png” attached at “Photograph the finished work” is missing from the tablet."
    [[nodiscard]] std::string text(Outage const& outage,
                                   model::EntryWords const& words = model::plain_words()) const;
};
/// Reads every file the outage's entries name and holds it against its hash: some tens of milliseconds a
/// photo.
[[nodiscard]] std::vector<LostFile> lost_files(Workspace& workspace, Outage const& outage);

} // namespace isochore::session
