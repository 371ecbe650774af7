#pragma once
#include "quantity/amount.h"
#include <functional>

namespace isochore::session {

/// A slip of hand, unit or reference that would turn the expected reading into this one, as a question; empty
/// where none fits. `expected_si` is in the reading's own reference, gauge as gauge.
[[nodiscard]] std::string slip_question(Amount const& reading, double expected_si, double air_pa);

/// Where a reading is not usual but would be in another unit, against another reference or with its point
/// elsewhere, that slip by name: "Looks like psi typed as bar: 87 psi g would be 6 bar g."; empty where none
/// fits. `usual` is asked with SI values, pressures absolute.
[[nodiscard]] std::string slip_hint(Amount const& reading, double air_pa,
                                    std::function<bool(double)> const& usual);

} // namespace isochore::session
