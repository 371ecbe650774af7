#include "session/profile_note.h"
#include "files/profile_file.h"
#include "json/read.h"

namespace isochore::session {

Result<void> note_profile(Workspace& workspace, char const* type, model::Profile const& profile,
                          std::string_view who, std::string_view file)
{
    Json body{{"type", type},
              {"id", profile.id},
              {"revision", profile.revision},
              {"status", profile.status},
              {"sha256", sha256_hex(files::write_profile(profile))},
              {"file", file},
              {"at", stamp(workspace.clock().now())},
              {"who", who}};
    if (auto const entry = workspace.journal().append("@library", std::move(body)); !entry)
        return tl::unexpected(entry.error());
    return {};
}

} // namespace isochore::session
