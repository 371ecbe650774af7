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

ProfileNote note_of(model::Profile const& profile)
{
    return {profile.id, profile.revision, profile.status, sha256_hex(files::write_profile(profile))};
}

Result<void> note_profiles(Workspace& workspace, std::span<ProfileNote const> profiles, std::string_view who,
                           std::string_view file)
{
    constexpr std::size_t at_once = 500;
    for (std::size_t first = 0; first < profiles.size(); first += at_once) {
        Json list = Json::array();
        for (auto const& p : profiles.subspan(first, std::min(at_once, profiles.size() - first)))
            list.push_back(
                {{"id", p.id}, {"revision", p.revision}, {"status", p.status}, {"sha256", p.sha256}});
        Json body{{"type", "profiles_imported"},
                  {"profiles", std::move(list)},
                  {"file", file},
                  {"at", stamp(workspace.clock().now())},
                  {"who", who}};
        if (auto const entry = workspace.journal().append("@library", std::move(body)); !entry)
            return tl::unexpected(entry.error());
    }
    return {};
}

} // namespace isochore::session
