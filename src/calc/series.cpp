#include "calc/series.h"
#include "gas/atmosphere.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {

using Code = Error::Code;

namespace {

double cell(Inputs& in, Json const& value, SeriesColumn const& column, std::string const& place)
{
    if (in.error())
        return 0.0;
    // A row is read as an object of its own, so that every message names the row and the column.
    Json object = Json::object();
    object[column.name] = value;
    if (column.dimension == Dimension::pressure)
        for (char const* shared : {"baro", "altitude"})
            if (Json const& given = in.raw(shared); !given.is_null())
                object[shared] = given;
    Inputs row(object, place);
    double const si = column.dimension == Dimension::pressure ? row.absolute_pressure(column.name)
                                                              : row.quantity(column.name, column.dimension);
    in.absorb(row);
    return si;
}

} // namespace

std::vector<TimedReading> read_series(Inputs& in, std::vector<SeriesColumn> const& columns, std::size_t least)
{
    std::vector<TimedReading> series;
    Json const& rows = in.raw("series");
    if (!rows.is_array()) {
        in.refuse(rows.is_null() ? Code::missing_input : Code::invalid_input, "series",
                  rows.is_null() ? "no readings are there: give a list of rows [time, value, ...]"
                                 : "is a list of rows [time, value, ...]");
        return series;
    }
    series.reserve(rows.size());
    for (std::size_t i = 0; i < rows.size() && !in.error(); ++i) {
        TimedReading reading;
        reading.place = in.place("series") + "[" + std::to_string(i) + "]";
        std::string const row = "series[" + std::to_string(i) + "]";
        if (!rows[i].is_array() || rows[i].size() != columns.size() + 1) {
            in.refuse(rows[i].is_array() && rows[i].size() < columns.size() + 1 ? Code::missing_input
                                                                                : Code::invalid_input,
                      row,
                      fmt::format("a row has {} entries: the time and {} readings", columns.size() + 1,
                                  columns.size()));
            return series;
        }
        reading.time_s = cell(in, rows[i][0], {"time", Dimension::time}, reading.place);
        for (std::size_t c = 0; c < columns.size(); ++c)
            reading.values.push_back(cell(in, rows[i][c + 1], columns[c], reading.place));
        if (!in.error() && !series.empty() && !(reading.time_s > series.back().time_s))
            in.refuse(Code::invalid_input, row,
                      reading.time_s == series.back().time_s
                          ? fmt::format("two readings at {:.6g} s: a time is repeated", reading.time_s)
                          : fmt::format("time goes back from {:.6g} s to {:.6g} s: put the readings in order",
                                        series.back().time_s, reading.time_s));
        series.push_back(std::move(reading));
    }
    if (!in.error() && series.size() < least)
        in.refuse(Code::no_solution, "series",
                  fmt::format("only {} of the {} readings needed at least are there", series.size(), least));
    return series;
}

std::vector<double> column_of(std::vector<TimedReading> const& series, std::size_t column)
{
    std::vector<double> values;
    values.reserve(series.size());
    for (auto const& reading : series)
        values.push_back(reading.values[column]);
    return values;
}

std::vector<double> times_of(std::vector<TimedReading> const& series)
{
    std::vector<double> times;
    times.reserve(series.size());
    for (auto const& reading : series)
        times.push_back(reading.time_s);
    return times;
}

double middle_of(std::vector<double> values)
{
    auto const middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

namespace {

/// A factor between two readings that is known for the slip that makes it; empty where it is none.
std::string factor_slip(double ratio, double closeness)
{
    struct Slip {
        double factor;
        char const* words;
    };
    constexpr double psi_in_bar = 14.5037738, kpa_in_psi = 6.894757;
    constexpr Slip slips[] = {
        {10.0, "ten times too large: MPa and bar, or a misplaced point"},
        {0.1, "ten times too small: MPa and bar, or a misplaced point"},
        {psi_in_bar, "14.5 times too large: a psi reading entered as bar"},
        {1.0 / psi_in_bar, "14.5 times too small: a bar reading entered as psi"},
        {kpa_in_psi, "6.9 times too large: a psi value multiplied into kPa twice, or psi and kPa exchanged"},
        {1.0 / kpa_in_psi, "6.9 times too small: a kPa reading entered as psi, or the reverse"}};
    for (auto const& slip : slips)
        if (std::fabs(ratio / slip.factor - 1.0) < closeness)
            return slip.words;
    return {};
}

} // namespace

std::string pressure_slip(double read_pa, double expected_pa, double closeness, double air_pa)
{
    if (std::string slip = factor_slip(read_pa / expected_pa, closeness); !slip.empty())
        return slip;
    // Near nothing on the gauge any two readings stand in some ratio.
    if (expected_pa > 1.2 * air_pa && read_pa > air_pa)
        if (std::string slip = factor_slip((read_pa - air_pa) / (expected_pa - air_pa), closeness);
            !slip.empty())
            return slip;
    double const apart = read_pa - expected_pa;
    if (std::fabs(apart - air_pa) < closeness * air_pa)
        return "one atmosphere too large: an absolute value entered as a gauge reading";
    if (std::fabs(apart + air_pa) < closeness * air_pa)
        return "one atmosphere too small: a gauge reading entered as absolute";
    return {};
}

std::string temperature_slip(double read_k, double expected_k, double closeness_k)
{
    double const read_c = read_k - 273.15, expected_c = expected_k - 273.15;
    if (std::fabs(read_c - expected_c) < 8.0)
        return {};
    if (std::fabs(read_c - (1.8 * expected_c + 32.0)) < closeness_k * 1.8)
        return "a degF reading entered as degC (factor 1.8 and 32)";
    if (std::fabs(read_c - (expected_c - 32.0) / 1.8) < closeness_k)
        return "a degC reading entered as degF (factor 1.8 and 32)";
    return {};
}

void refuse_pressure_slip(Inputs& in, std::vector<TimedReading> const& series, std::size_t column,
                          double air_pa)
{
    if (in.error() || series.size() < 3)
        return;
    double const middle = middle_of(column_of(series, column));
    for (std::size_t i = 0; i < series.size(); ++i) {
        std::string const slip = pressure_slip(series[i].values[column], middle, 0.1, air_pa);
        if (!slip.empty())
            in.refuse(Code::invalid_input, fmt::format("series[{}]", i),
                      fmt::format("{:.5g} kPa abs stands among readings of about {:.5g} kPa abs; it is {}",
                                  series[i].values[column] / 1e3, middle / 1e3, slip));
    }
}

void refuse_temperature_slip(Inputs& in, std::vector<TimedReading> const& series, std::size_t column)
{
    if (in.error() || series.size() < 3)
        return;
    double const middle = middle_of(column_of(series, column));
    for (std::size_t i = 0; i < series.size(); ++i) {
        std::string const slip = temperature_slip(series[i].values[column], middle, 1.5);
        if (!slip.empty())
            in.refuse(Code::invalid_input, fmt::format("series[{}]", i),
                      fmt::format("{:.1f} degC stands among readings of about {:.1f} degC; it looks like {}",
                                  series[i].values[column] - 273.15, middle - 273.15, slip));
    }
}

} // namespace isochore::calc
