#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include "drawing/text.h"
#include "language/places.h"
#include "model/profile.h"
#include <optional>

namespace isochore::session {

/// Pressure against temperature with the profile's filling, alarm and lockout as lines of constant density
/// and the dew line. Nothing where no density can be derived. Without `words` it speaks English.
[[nodiscard]] std::optional<drawing::Picture> profile_picture(model::Profile const& profile,
                                                              drawing::Space space,
                                                              drawing::MeasureText const& measure,
                                                              language::Translate const& words = {});

} // namespace isochore::session
