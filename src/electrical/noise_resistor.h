#pragma once
#include "electrical/preferred_values.h"
#include "quantity/result.h"
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::electrical {

/// The resistor across the trip input: everything it must satisfy. SI units.
struct NoiseResistorCase {
    double dc_min_v = 0.0, dc_max_v = 0.0;
    double input_ohm = 0.0;
    double drop_out_v = 0.0;
    double noise_a = 0.0;                 ///< leakage plus coupled current; 0: no noise bound
    double noise_share = 0.5;             ///< noise voltage allowed, as a share of the drop-out
    double cable_f = 0.0;                 ///< cable capacitance; 0: no delay bound
    std::optional<double> wetting_a;      ///< current that keeps the output contact clean
    std::optional<double> breaking_a;     ///< dc current the output contact can break
    std::optional<double> max_delay_s;    ///< turn-off delay the timing allows
    double derating = 0.5;                ///< share of the rated power used
    std::optional<double> power_w;        ///< rated power of the part; absent: chosen from common ratings
    std::optional<double> part_voltage_v; ///< voltage rating of the part, where known
    double tolerance = 0.05;              ///< of the part's resistance
    ESeries series = ESeries::e24;
};

enum class Bound { minimum, maximum };

/// One requirement turned into a limit on R, with what it asks and what a given R does.
struct Constraint {
    std::string name; ///< "noise"
    Bound bound = Bound::minimum;
    double limit_ohm = 0.0; ///< infinity for a maximum (0 for a minimum) that never binds
    double of = 0.0;        ///< the permitted value, in `unit`
    std::string unit;       ///< SI
    bool met_by(double ohm) const;
};

struct ResistorWindow {
    std::vector<Constraint> constraints;
    double low_ohm = 0.0, high_ohm = 0.0; ///< empty when low > high; high may be infinity
    std::size_t lower = 0, upper = 0;     ///< which constraints bind
    [[nodiscard]] bool possible() const { return low_ohm <= high_ohm; }
};

struct ChosenResistor {
    double ohm = 0.0;
    double power_rating_w = 0.0;
    double power_w = 0.0;
    double delay_s = 0.0;
    std::vector<double> candidates; ///< preferred values inside the window
};

/// Errors of the case itself: out_of_range for voltages in the wrong order, values not above zero.
[[nodiscard]] Result<void> check_case(NoiseResistorCase const& c, std::string_view where);

/// Input and resistor in parallel, ohm.
[[nodiscard]] double in_parallel(double ohm, double input_ohm);

/// What constraint `name` measures at R: noise voltage, wetting current, breaking current, power, delay.
[[nodiscard]] double value_at(NoiseResistorCase const& c, std::string_view name, double ohm);

/// The window. Each constraint:
///   noise      I (R || Rin) <= share * drop-out                            maximum
///   wetting    Umin / R >= I, the input's own current not counted          maximum
///   delay      (R || Rin) C ln(Umax / drop-out) <= t                       maximum
///   breaking   Umax / (R || Rin) <= I, the contact breaks both             minimum
///   heat       Umax^2 / R <= derating * P, continuous                      minimum
/// `power_w` is the rated power the heat constraint uses.
[[nodiscard]] ResistorWindow resistor_window(NoiseResistorCase const& c, double power_w);

/// The preferred value to fit: the highest one whose whole tolerance band lies in the window, since it
/// runs coolest; with the smallest common power rating that carries it. Where no band fits whole, the
/// value nearest the geometric middle. Empty when no preferred value lies inside.
[[nodiscard]] std::optional<ChosenResistor> choose_resistor(NoiseResistorCase const& c);

/// Formula I = U 2 pi f C: the current a source of `volt` rms couples through the capacitance.
[[nodiscard]] double coupled_current_a(double volt, double frequency_hz, double capacitance_f);

} // namespace isochore::electrical
