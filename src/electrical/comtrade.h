#pragma once
#include "quantity/result.h"
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::electrical {

enum class ComtradeData { ascii, binary, binary32, float32 };

struct AnalogChannel {
    std::string name, phase, unit;
    double gain = 1.0, offset = 0.0;             ///< value = gain x raw + offset, in `unit`
    double skew_s = 0.0;                         ///< sampled this long after the record's time
    double lowest = -99999.0, highest = 99999.0; ///< range of the raw numbers
    double primary = 1.0, secondary = 1.0;
    bool primary_values = true; ///< P: values are already primary; never multiply them again
    std::vector<double> values; ///< NaN where missing
};

struct DigitalChannel {
    std::string name, phase;
    bool normal = false; ///< state while nothing happens
    std::vector<std::uint8_t> values;
};

struct RateSegment {
    double hertz = 0.0;
    std::int64_t last_sample = 0;
};

/// A disturbance record. Times run from the first sample.
struct Comtrade {
    std::string station, device;
    int revision = 1999; ///< 1991, 1999 or 2013, after the rule for odd years
    double frequency_hz = 0.0;
    std::vector<RateSegment> rates;  ///< empty: the stamps are the only clock
    std::string start, trigger;      ///< as written
    std::optional<double> trigger_s; ///< trigger after the first sample, where it is set and sensible
    ComtradeData data = ComtradeData::ascii;
    double stamp_unit_s = 1e-6;
    std::vector<AnalogChannel> analog;
    std::vector<DigitalChannel> digital;
    std::vector<double> times_s;
    std::vector<std::string> warnings; ///< what was odd and how it was taken
};

/// Reads a record from the contents of its two files. Layout: IEEE C37.111-1991, -1999, -2013 = IEC
/// 60255-24:2013 (from memory and from sample files). Names that are not UTF-8 are taken as Latin-1, with a
/// warning. Errors: corrupt, with `where` = "name.cfg:line" or "name.dat: record n".
[[nodiscard]] Result<Comtrade> read_comtrade(std::string_view cfg, std::string_view dat,
                                             std::string_view name);

/// The same from the one-file form (.cff).
[[nodiscard]] Result<Comtrade> read_comtrade_cff(std::string_view cff, std::string_view name);

/// Only the .cfg part: channels without values. Used by read_comtrade.
[[nodiscard]] Result<Comtrade> read_comtrade_cfg(std::string_view cfg, std::string_view name);

/// Fills in values and times. Used by read_comtrade.
[[nodiscard]] Result<void> read_comtrade_dat(Comtrade& record, std::string_view dat, std::string_view name);

} // namespace isochore::electrical
