#pragma once
#include "calc/inputs.h"
#include "mechanical/chain.h"
#include <map>
#include <string>

namespace isochore::calc {

/// An end as text, "G 3/8 female", "UN 9/16-18 male cone37" or "tube 10 mm male". The form is that of the
/// family where it has only one; for UN it must be said.
/// Errors: unknown (no such thread in assets/parts/threads.json), missing_input (gender or form not said).
[[nodiscard]] Result<mechanical::End> parse_end(std::string_view text, std::string_view where);

/// One part as an object, as in assets/parts/fittings.json: id, name, kind, ends [text, …], length, diameter,
/// volume or bore, mass, cost, max_pressure ("40 bar", gauge). Faults are kept in `in`.
[[nodiscard]] mechanical::Part read_part(Inputs& in);

/// The built-in parts and those the caller adds with "library" (same form; a known id is replaced).
using PartTable = std::map<std::string, mechanical::Part, std::less<>>;
[[nodiscard]] PartTable read_part_table(Inputs& in);

} // namespace isochore::calc
