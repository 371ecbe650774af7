#pragma once
#include "quantity/amount.h"

namespace isochore::session {

/// A slip of hand, unit or reference that would turn the expected reading into this one, as a question; empty
/// where none fits. `expected_si` is in the reading's own reference, gauge as gauge.
[[nodiscard]] std::string slip_question(Amount const& reading, double expected_si, double air_pa);

} // namespace isochore::session
