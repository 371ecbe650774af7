#pragma once
#include "calc/inputs.h"
#include <string>
#include <vector>

namespace isochore::calc {

/// One timed reading of a log, with the place to name when it is refused.
struct TimedReading {
    double time_s = 0.0;
    std::vector<double> values; ///< in SI, in the order of the columns
    std::string place;          ///< "inputs.series[3]"
};

/// A column after the time: a pressure (made absolute with the calculation's barometer), a temperature or
/// a fraction.
struct SeriesColumn {
    char const* name;
    Dimension dimension;
};

/// Reads "series": rows [time, value, …] of quantity strings. Times count from any zero but must rise.
/// Refuses: fewer rows than `least`, a missing or empty cell, a time not later than the one before.
[[nodiscard]] std::vector<TimedReading> read_series(Inputs& in, std::vector<SeriesColumn> const& columns,
                                                    std::size_t least);

/// Refuses a reading that differs from the middle one as a slip of unit or reference would make it: a factor
/// 10, 14.5 (bar and psi), 6.9 (kPa and psi), one atmosphere (gauge and absolute), or degF for degC.
void refuse_pressure_slip(Inputs& in, std::vector<TimedReading> const& series, std::size_t column,
                          double air_pa);
void refuse_temperature_slip(Inputs& in, std::vector<TimedReading> const& series, std::size_t column);

/// What slip would turn `expected_pa` into `read_pa`, in words; empty where none fits within `closeness`.
/// Both are absolute; a slip of ten is looked for in what the gauge showed too, above `air_pa`.
[[nodiscard]] std::string pressure_slip(double read_pa, double expected_pa, double closeness, double air_pa);
[[nodiscard]] std::string temperature_slip(double read_k, double expected_k, double closeness_k);

[[nodiscard]] std::vector<double> column_of(std::vector<TimedReading> const& series, std::size_t column);
[[nodiscard]] std::vector<double> times_of(std::vector<TimedReading> const& series);
[[nodiscard]] double middle_of(std::vector<double> values);

} // namespace isochore::calc
