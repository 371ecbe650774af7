#pragma once
#include "calc/inputs.h"
#include "electrical/ct_taps.h"
#include <string_view>
#include <vector>

namespace isochore::calc {

/// Rated currents "1200 A" and "5 A" under two names. Faults are kept in `in`; values are then harmless.
[[nodiscard]] electrical::NameplateRatio read_ratio(Inputs& in, std::string_view primary,
                                                    std::string_view secondary);

/// "turns": whole passes of the conductor through the coil, 1 when absent. Takes 2, "2" and "2 turns".
[[nodiscard]] int read_turns(Inputs& in);

/// "connection": direct, auxiliary, delta or delta_auxiliary, as a person sees it; or the flag "delta".
[[nodiscard]] bool read_delta(Inputs& in);

/// The tap table from "full_ratio" ("2000:5") or from "segments" (turns, in order) with "secondary".
[[nodiscard]] Result<std::vector<electrical::Tap>> read_taps(Inputs& in);

} // namespace isochore::calc
