#include "cli/places.h"
#include <cstdlib>

namespace isochore::cli {
namespace {

std::string environment(char const* name)
{
    char const* value = std::getenv(name);
    return value ? value : std::string();
}

} // namespace

disk::Path Places::share_folder() const
{
    if (!share.empty())
        return share;
    std::string const set = environment("ISOCHORE_SHARE");
    return set.empty() ? disk::Path(ISOCHORE_SHARE_FOLDER) : disk::Path(set);
}

disk::Path Places::data_folder() const
{
    if (!data.empty())
        return data;
    if (std::string const set = environment("ISOCHORE_DATA"); !set.empty())
        return set;
    if (std::string const set = environment("XDG_DATA_HOME"); !set.empty())
        return disk::Path(set) / "isochore";
    std::string const home = environment("HOME");
    return disk::Path(home.empty() ? "." : home) / ".local/share/isochore";
}

session::Folders Places::folders() const
{
    return {data_folder(), share_folder() / "checklists", share_folder() / "profiles"};
}

} // namespace isochore::cli
