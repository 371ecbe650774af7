#pragma once
#include "app/desk.h"

/// How one value of a profile is typed: its units, what is said of it meanwhile.
namespace isochore::app {

/// The units offered for a value, the usual one first. A pressure's name abs or g, so that none can be
/// entered without its reference.
[[nodiscard]] std::vector<std::string> units_for(model::ProfileField const& field);
/// The keypad or keyboard for a value, filled with what the profile has.
[[nodiscard]] EntryRequest value_request(Desk& desk, model::ProfileField const& field,
                                         model::Profile const& profile);
/// What the value comes down to: the density of a pressure, the milliseconds of cycles. May be empty.
[[nodiscard]] std::string value_echo(model::Profile const& profile, model::ProfileField const& field);

} // namespace isochore::app
