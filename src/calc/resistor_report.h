#pragma once
#include "calc/answer.h"
#include "electrical/noise_resistor.h"
#include <optional>
#include <string>

namespace isochore::calc {

/// "noise 1 mA", "heat, 5 W part": the constraint as a row of the table beside the ruler.
[[nodiscard]] std::string label_of(electrical::NoiseResistorCase const& c, electrical::Constraint const& k,
                                   double power_w);

/// "≥ 7.84 kΩ".
[[nodiscard]] std::string limit_text(electrical::Constraint const& k);

/// What would have to change for the constraint to allow `ohm`, in words with its number.
[[nodiscard]] std::string opener(electrical::NoiseResistorCase const& c, electrical::Constraint const& k,
                                 double ohm);

/// Adds facts["constraints"] and, where a resistor is chosen, one check each. A row is {name, label, bound
/// "min"|"max", limit_ohm (null: never binds), limit_text, of, unit, at_value, at_text, margin_ohm, verdict}.
void report_constraints(Answer& answer, electrical::NoiseResistorCase const& c,
                        electrical::ResistorWindow const& w, std::optional<double> ohm, double power_w);

} // namespace isochore::calc
