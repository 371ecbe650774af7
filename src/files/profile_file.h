#pragma once
#include "files/checklist_file.h"
#include "model/profile.h"
#include <string>
#include <string_view>

namespace isochore::files {

/// Reads a profile's text: {"format":"isochore.profile/1","id","revision","parent","title","author","date",
/// "status","invented","values":{"gas":{"nominal":{"value","source","confidence":"confirmed|unconfirmed"}}}}
/// — values nested by the dots of the paths in model::profile_fields(). All errors at once.
[[nodiscard]] model::Profile read_profile(std::string_view text, std::string_view name, FileReport& report);

/// The same as text, laid out for people (two spaces), stable to the byte for equal profiles.
[[nodiscard]] std::string write_profile(model::Profile const& profile);

/// What the values must satisfy together: lockout < warn < nominal in density, drop-out < pick-up < dc_min,
/// dc_min < nominal < dc_max, pressure reference stated, fill above liquefaction at the lowest ambient,
/// limits with source and confidence, timing against rated cycles. All errors at once.
[[nodiscard]] FileReport check_profile(model::Profile const& profile, std::string_view name);

} // namespace isochore::files
