#pragma once
#include "media/stick_set.h"
#include "media/unit_values.h"
#include "model/profile.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::media {

/// One unit that is to be loaded from the stick.
struct UnitOnStick {
    model::Profile profile;
    UnitValues values;
};

/// The files of a set: P0000001.JSN… each profile once, U0000001.JSN… the values of each unit and
/// S0000001.JSN… the settings it loads, U and S of one number belonging together.
/// Errors: invalid_input for a profile that does not pass its check or a unit
/// with conflicts or missing values, naming the first.
[[nodiscard]] Result<std::vector<SetFile>> stick_content(std::vector<model::Profile> const& profiles,
                                                         std::vector<UnitOnStick> const& units);

/// What a verified set brings back, each file read by its own strict reader.
struct StickContent {
    std::vector<std::pair<std::string, model::Profile>> profiles; ///< with the name of the file
    std::vector<std::pair<std::string, UnitValues>> units;
    files::FileReport report; ///< files that were refused; nothing of them is in the lists above
};
[[nodiscard]] StickContent read_content(VerifiedSet const& set);

} // namespace isochore::media
