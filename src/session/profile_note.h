#pragma once
#include "session/workspace.h"
#include <span>

namespace isochore::session {

/// Enters into the journal what was done to a revision of the library: its hash, who and when. `file` is its
/// name in the library. Errors: io.
[[nodiscard]] Result<void> note_profile(Workspace& workspace, char const* type, model::Profile const& profile,
                                        std::string_view who, std::string_view file);

/// What is said of one of many profiles that came together.
struct ProfileNote {
    std::string id;
    int revision = 0;
    std::string status, sha256;
};
[[nodiscard]] ProfileNote note_of(model::Profile const& profile);

/// Enters many that came together, in as few entries as can be. Errors: io.
[[nodiscard]] Result<void> note_profiles(Workspace& workspace, std::span<ProfileNote const> profiles,
                                         std::string_view who, std::string_view file);

} // namespace isochore::session
