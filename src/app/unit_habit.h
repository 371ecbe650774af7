#pragma once
#include "app/words.h"
#include "quantity/unit.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::session {
class Outage;
}

namespace isochore::app {

/// The unit a keypad proposes, of those offered: the first one, unless the last value of this dimension in the
/// outage was typed in US customary units; then the first such unit of the same pressure reference. A reference
/// is never changed by habit: gauge and absolute are told apart by the person who reads.
[[nodiscard]] std::string usual_unit(session::Outage const& outage, Dimension dimension,
                                     std::vector<std::string> const& offered);
/// The unit as it stands on a sheet: in print ("°C" for degC), and in the language where it is a word ("turns").
[[nodiscard]] std::string unit_shown(Words const& words, std::string_view unit);

} // namespace isochore::app
