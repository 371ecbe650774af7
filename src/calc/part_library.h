#pragma once
#include "mechanical/fastener.h"
#include "mechanical/thread.h"
#include "json/value.h"
#include <vector>

namespace isochore::calc {

/// The built-in parts, read once from the embedded data. A fault in that data is an error of the build and
/// shows as an empty list with `library_fault()` naming it; a test holds it empty.
[[nodiscard]] std::vector<mechanical::ScrewSize> const& screw_sizes();
[[nodiscard]] std::vector<mechanical::ScrewGrade> const& screw_grades();
[[nodiscard]] std::vector<mechanical::Thread> const& threads();
[[nodiscard]] Json const& fitting_data(); ///< assets/parts/fittings.json
[[nodiscard]] Json const& kit_data();     ///< assets/parts/kit.json
[[nodiscard]] Json const& stage_data();   ///< assets/parts/stages.json
[[nodiscard]] Json const& loop_data();    ///< assets/parts/loop.json
[[nodiscard]] Json const& tie_rule();     ///< "ties" of assets/parts/fasteners.json
[[nodiscard]] std::string const& library_fault();

[[nodiscard]] mechanical::Thread const* find_thread(std::string_view id);

} // namespace isochore::calc
