#pragma once
#include <string_view>

namespace isochore::calc {

/// The text of assets/parts/NAME.json ("fasteners", "threads", "fittings", "kit",
/// "stages", "gwp", "loop") as built in; empty for another
/// name. Made by src/embed.cmake.
[[nodiscard]] std::string_view part_data(std::string_view name);

} // namespace isochore::calc
