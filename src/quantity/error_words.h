#pragma once
#include "quantity/result.h"

namespace isochore {

/// Most sentences about files name their place themselves; it must not be said twice.
[[nodiscard]] bool names_its_place(Error const& error);

/// What a person is told: the sentence, after its place where the sentence does not name that itself.
[[nodiscard]] std::string place_and_detail(Error const& error);

} // namespace isochore
