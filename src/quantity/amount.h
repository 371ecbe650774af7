#pragma once
#include "quantity/result.h"
#include "quantity/unit.h"
#include <string>
#include <string_view>

namespace isochore {

/// Against what a pressure was read.
enum class PressureReference { none, absolute, gauge };

/// A number with its unit, as typed and as carried. `si` is in the SI unit of the dimension; for a gauge
/// pressure it is still the gauge value, because turning it into an absolute one needs the barometer.
struct Amount {
    double si = 0.0;
    Dimension dimension = Dimension::fraction;
    PressureReference reference = PressureReference::none;
    Unit const* unit = nullptr; ///< the unit typed
    double value = 0.0;         ///< the number typed, in `unit`
    std::string typed;          ///< exactly what was typed

    [[nodiscard]] double in(std::string_view unit_name) const; ///< NaN where the dimension has no such unit
};

/// Reads "20 degC", "0.62 MPa abs", "4.94 bar g", "87 psig", "0.5 %/yr".
/// Only a point separates decimals and locale never matters; "1,200" is refused, not guessed.
/// A pressure must say abs or g. A bare number is refused, except where the dimension is a plain
/// number (count, ratio, fraction).
/// Errors: invalid_input (unreadable, wrong or missing unit, not finite), out_of_range (below absolute
/// zero or below vacuum). `where` is copied into the error.
[[nodiscard]] Result<Amount> parse_amount(std::string_view text, Dimension dimension, std::string_view where);

/// Reads only the number, by the same rules ("4.94", "-12", ".5", "1e-6").
[[nodiscard]] Result<double> parse_number(std::string_view text, std::string_view where);

/// "4.94 bar g": the number with `digits` significant figures and the unit as shown on paper.
[[nodiscard]] std::string show_amount(double si, Unit const& unit, int digits,
                                      PressureReference reference = PressureReference::none);

/// The number alone, `digits` significant figures, never in exponent form between 1e-4 and 1e7.
[[nodiscard]] std::string show_number(double value, int digits);

/// The same without zeros that say nothing after the point: "19", not "19.00".
[[nodiscard]] std::string show_short(double value, int digits);

/// The number with a fixed count of decimals, negative zero shown as zero.
[[nodiscard]] std::string show_fixed(double value, int decimals);

/// Decimals to show for a value in a unit when its standard uncertainty (in that unit) is u: two
/// significant figures of u (JCGM 100, 7.2.6), at most `most`.
[[nodiscard]] int decimals_for(double u, int most = 6);

} // namespace isochore
