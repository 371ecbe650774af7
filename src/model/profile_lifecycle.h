#pragma once
#include "model/profile.h"
#include "quantity/result.h"
#include <string>
#include <string_view>

namespace isochore::model {

/// True for one name written twice, whatever the case and the spaces: "A. Brandt" and "a.  brandt ".
[[nodiscard]] bool same_person(std::string_view a, std::string_view b);

/// The status that can follow: draft, checked, released, withdrawn. Empty after withdrawn.
[[nodiscard]] std::string_view next_status(std::string_view status);

/// The profile one step further in its life, with an unsigned sign-off added.
/// Errors: denied where the step does not follow, where the releasing person is the author or the checker,
/// or where no name is given.
[[nodiscard]] Result<Profile> advance(Profile profile, std::string_view to, std::string_view person,
                                      std::string_view date);

/// A draft to change: the same values as a new revision whose parent is this one.
[[nodiscard]] Profile copy_as_revision(Profile const& profile, int revision, std::string_view author,
                                       std::string_view date);

/// Whether `next` may stand in the place of `stored`, the same revision of the same model: a draft may
/// change, anything further may only gain sign-offs. Errors: denied, naming what would have changed.
[[nodiscard]] Result<void> may_replace(Profile const& stored, Profile const& next);

} // namespace isochore::model
