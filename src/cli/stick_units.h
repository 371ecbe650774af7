#pragma once
#include "cli/stick_commands.h"
#include "session/unit_store.h"

/// What the commands about units share.
namespace isochore::cli {

/// A unit for scripts, with all that is in its way.
[[nodiscard]] Json unit_json(session::ListedUnit const& unit);

/// What does not agree with the profile and what is missing, a line each, both sides named.
void say_problems(session::ListedUnit const& unit, std::ostream& out);

template <class Units> std::vector<std::string> ids_of(Units const& units)
{
    std::vector<std::string> ids;
    for (auto const& unit : units)
        ids.push_back(unit.id);
    return ids;
}

/// Refuses an id, with those that come near.
[[nodiscard]] tl::unexpected<Error> no_such_unit(std::string const& id,
                                                 std::vector<std::string> const& there);

} // namespace isochore::cli
