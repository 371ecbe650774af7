#include "electrical/comtrade.h"
#include "electrical/comtrade_text.h"
#include <algorithm>
#include <bit>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace isochore::electrical {
namespace {

using Code = Error::Code;
constexpr double missing = std::numeric_limits<double>::quiet_NaN();

std::uint32_t little(std::string_view bytes, std::size_t at, std::size_t size)
{
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < size; ++i)
        value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + i])) << (8 * i);
    return value;
}

std::size_t analog_bytes(ComtradeData data)
{
    return data == ComtradeData::binary ? 2 : 4;
}

double raw_value(ComtradeData data, std::string_view bytes, std::size_t at)
{
    if (data == ComtradeData::binary) {
        auto const raw = static_cast<std::int16_t>(static_cast<std::uint16_t>(little(bytes, at, 2)));
        return raw == std::numeric_limits<std::int16_t>::min() ? missing : raw;
    }
    std::uint32_t const word = little(bytes, at, 4);
    if (data == ComtradeData::binary32) {
        auto const raw = static_cast<std::int32_t>(word);
        return raw == std::numeric_limits<std::int32_t>::min() ? missing : raw;
    }
    auto const raw = std::bit_cast<float>(word);
    return std::isfinite(raw) ? static_cast<double>(raw) : missing;
}

std::size_t expected_records(Comtrade const& r)
{
    return r.rates.empty() ? 0 : static_cast<std::size_t>(r.rates.back().last_sample);
}

/// The stamps as read, NaN where missing; turned into times once all are there.
using Stamps = std::vector<double>;

Result<Stamps> read_binary(Comtrade& r, std::string_view dat, std::string_view name)
{
    std::size_t const words = (r.digital.size() + 15) / 16;
    std::size_t const size = 8 + analog_bytes(r.data) * r.analog.size() + 2 * words;
    while (dat.size() % size != 0 && !dat.empty() && dat.back() == '\x1a')
        dat.remove_suffix(1);
    if (dat.size() % size != 0)
        r.warnings.push_back(
            fmt::format("{} bytes are left over after the last whole record of {}", dat.size() % size, size));
    std::size_t const count = dat.size() / size;
    if (count == 0)
        return fail(Code::corrupt, std::string(name) + ".dat",
                    fmt::format("holds no whole record of {} bytes", size));
    Stamps stamps;
    for (std::size_t n = 0; n < count; ++n) {
        std::string_view const record = dat.substr(n * size, size);
        std::uint32_t const stamp = little(record, 4, 4);
        stamps.push_back(stamp == 0xFFFFFFFFu ? missing : stamp);
        std::size_t at = 8;
        for (AnalogChannel& c : r.analog) {
            c.values.push_back(c.gain * raw_value(r.data, record, at) + c.offset);
            at += analog_bytes(r.data);
        }
        for (std::size_t d = 0; d < r.digital.size(); ++d)
            r.digital[d].values.push_back((little(record, at + 2 * (d / 16), 2) >> (d % 16)) & 1u);
    }
    return stamps;
}

/// 99999 marks a missing sample in 1991 and, against the rule, in some later files: it is taken so wherever
/// the channel's own range does not reach it.
double ascii_value(Comtrade const& r, AnalogChannel const& c, double raw)
{
    bool const marks_missing = raw == 99999.0 && (r.revision == 1991 || c.highest < 99999.0);
    return marks_missing ? missing : c.gain * raw + c.offset;
}

Result<Stamps> read_ascii(Comtrade& r, std::string_view dat, std::string_view name)
{
    Stamps stamps;
    std::size_t const fields_needed = 2 + r.analog.size() + r.digital.size();
    for (std::string_view line : text_lines(dat)) {
        if (trimmed(line).empty())
            continue;
        auto const fields = comma_fields(line);
        auto const place = [&] { return fmt::format("{}.dat: record {}", name, stamps.size() + 1); };
        if (fields.size() < fields_needed)
            return fail(Code::corrupt, place(),
                        fmt::format("has {} fields, {} are needed", fields.size(), fields_needed));
        stamps.push_back(number_in(fields[1]).value_or(missing));
        for (std::size_t i = 0; i < r.analog.size(); ++i) {
            auto const raw = number_in(fields[2 + i]);
            if (!raw && !fields[2 + i].empty())
                return fail(Code::corrupt, place(), fmt::format("channel {} does not hold a number", i + 1));
            r.analog[i].values.push_back(raw ? ascii_value(r, r.analog[i], *raw) : missing);
        }
        for (std::size_t i = 0; i < r.digital.size(); ++i)
            r.digital[i].values.push_back(
                number_in(fields[2 + r.analog.size() + i]).value_or(0.0) != 0.0 ? 1 : 0);
    }
    if (stamps.empty())
        return fail(Code::corrupt, std::string(name) + ".dat", "holds no record");
    return stamps;
}

void times_from_rates(Comtrade& r, std::size_t count)
{
    // Counted from the start of its segment, so that rounding does not add up over a long record.
    double start = 0.0;
    double steps = 0.0;
    std::size_t segment = 0;
    for (std::size_t n = 0; n < count; ++n) {
        double const now = start + steps / r.rates[segment].hertz;
        r.times_s.push_back(now);
        if (segment + 1 < r.rates.size() &&
            static_cast<std::int64_t>(n + 1) >= r.rates[segment].last_sample) {
            while (segment + 1 < r.rates.size() &&
                   static_cast<std::int64_t>(n + 1) >= r.rates[segment].last_sample)
                ++segment;
            start = now;
            steps = 0.0;
        }
        steps += 1.0;
    }
}

/// With a rate the stamps only cross-check; many devices leave them empty, zero or in another unit.
void compare_stamps(Comtrade& r, Stamps const& stamps)
{
    if (stamps.size() < 2 || std::isnan(stamps.front()) || std::isnan(stamps.back()))
        return;
    double const by_stamps = (stamps.back() - stamps.front()) * r.stamp_unit_s;
    double const by_rates = r.times_s.back();
    if (by_stamps == 0.0) {
        r.warnings.push_back("the time stamps do not move: the sampling rate is the clock");
        return;
    }
    if (std::fabs(by_stamps - by_rates) > 0.01 * by_rates)
        r.warnings.push_back(
            fmt::format("the stamps span {:.6g} s, the sampling rate {:.6g} s: the rate is the clock",
                        by_stamps, by_rates));
}

Result<void> times_from_stamps(Comtrade& r, Stamps const& stamps, std::string_view name)
{
    for (std::size_t n = 0; n < stamps.size(); ++n) {
        double const time = (stamps[n] - stamps.front()) * r.stamp_unit_s;
        bool const moves = n == 0 || time > r.times_s.back();
        if (std::isnan(time) || !moves)
            return fail(
                Code::corrupt, fmt::format("{}.dat: record {}", name, n + 1),
                "there is no sampling rate, so every stamp must be there and later than the one before");
        r.times_s.push_back(time);
    }
    return {};
}

void cut(Comtrade& r, Stamps& stamps, std::size_t count)
{
    stamps.resize(count);
    for (AnalogChannel& c : r.analog)
        c.values.resize(count);
    for (DigitalChannel& c : r.digital)
        c.values.resize(count);
}

} // namespace

Result<void> read_comtrade_dat(Comtrade& r, std::string_view dat, std::string_view name)
{
    auto stamps = r.data == ComtradeData::ascii ? read_ascii(r, dat, name) : read_binary(r, dat, name);
    if (!stamps)
        return tl::unexpected(stamps.error());
    std::size_t const wanted = expected_records(r);
    if (wanted != 0 && stamps->size() < wanted)
        r.warnings.push_back(
            fmt::format("the record is cut short: {} samples of {}", stamps->size(), wanted));
    if (wanted != 0 && stamps->size() > wanted) {
        r.warnings.push_back(
            fmt::format("{} samples after the last one announced are left out", stamps->size() - wanted));
        cut(r, *stamps, wanted);
    }
    if (r.rates.empty())
        return times_from_stamps(r, *stamps, name);
    times_from_rates(r, stamps->size());
    compare_stamps(r, *stamps);
    return {};
}

Result<Comtrade> read_comtrade(std::string_view cfg, std::string_view dat, std::string_view name)
{
    auto record = read_comtrade_cfg(cfg, name);
    if (!record)
        return record;
    if (auto const read = read_comtrade_dat(*record, dat, name); !read)
        return tl::unexpected(read.error());
    return record;
}

namespace {

/// The text after "--- file type: KIND" up to the next separator line, and the rest of that separator line.
struct Section {
    bool found = false;
    std::string head; ///< lower case, e.g. "dat binary: 90"
    std::size_t begin = 0;
};

Section find_section(std::string_view cff, std::string_view kind, std::size_t from)
{
    constexpr std::string_view mark = "--- file type:";
    for (std::size_t at = from; at < cff.size();) {
        std::size_t end = cff.find('\n', at);
        if (end == std::string_view::npos)
            end = cff.size();
        std::string const line = lower_case(trimmed(cff.substr(at, end - at)));
        if (line.starts_with(mark)) {
            std::string_view head = trimmed(std::string_view(line).substr(mark.size()));
            if (std::size_t const dashes = head.find("---"); dashes != std::string_view::npos)
                head = trimmed(head.substr(0, dashes));
            if (kind.empty() || head.starts_with(kind))
                return {true, std::string(head), std::min(end + 1, cff.size())};
        }
        at = end + 1;
    }
    return {};
}

std::size_t line_start_before(std::string_view text, std::size_t begin)
{
    // `begin` is just after a separator line; its own start is after the line end before it.
    std::size_t const end_of_line = begin >= 2 ? text.rfind('\n', begin - 2) : std::string_view::npos;
    return end_of_line == std::string_view::npos ? 0 : end_of_line + 1;
}

} // namespace

Result<Comtrade> read_comtrade_cff(std::string_view cff, std::string_view name)
{
    Section const cfg = find_section(cff, "cfg", 0);
    Section const dat = find_section(cff, "dat", 0);
    if (!cfg.found || !dat.found || dat.begin <= cfg.begin)
        return fail(Code::corrupt, std::string(name) + ".cff",
                    "needs a line \"--- file type: CFG ---\" and after it \"--- file type: DAT … ---\"");
    Section const after_cfg = find_section(cff, "", cfg.begin);
    std::string_view const cfg_text =
        cff.substr(cfg.begin, line_start_before(cff, after_cfg.begin) - cfg.begin);
    std::string_view data = cff.substr(dat.begin);
    // "dat binary: 90": the count bounds binary data, which may itself hold anything.
    if (std::size_t const colon = dat.head.find(':'); colon != std::string::npos)
        if (auto const bytes = number_in(std::string_view(dat.head).substr(colon + 1));
            bytes && *bytes >= 0.0)
            data = data.substr(0, static_cast<std::size_t>(std::min(*bytes, 1e12)));
    return read_comtrade(cfg_text, data, name);
}

} // namespace isochore::electrical
