#pragma once
#include "model/profile.h"
#include "quantity/result.h"
#include <optional>
#include <string>
#include <string_view>

namespace isochore::files {

inline constexpr std::string_view profile_format = "isochore.profile/1";

/// Small questions about the texts in a profile, shared by its reader, the CSV import and the stick.
[[nodiscard]] bool is_profile_id(std::string_view text); ///< [a-z0-9][a-z0-9-]*, at most 64
[[nodiscard]] bool is_date(std::string_view text);       ///< a day of the calendar as 2025-03-31 (ISO 8601)
[[nodiscard]] bool is_status(std::string_view text);
[[nodiscard]] bool has_control(std::string_view text); ///< below space, or delete
/// Foreign text made fit for a message: control characters as '?', cut after 80 bytes at a character.
[[nodiscard]] std::string printable(std::string_view text);

/// Why a text cannot be the value of a field (kind, unit, choice); nothing where it can.
[[nodiscard]] std::optional<Error> refuse_value(model::ProfileField const& field, std::string_view value,
                                                std::string_view place);

/// The two sides of a CT nameplate ratio "2000:5".
struct NameplateRatio {
    int primary = 0, secondary = 0;
};
[[nodiscard]] std::optional<NameplateRatio> read_nameplate_ratio(std::string_view text);

} // namespace isochore::files
