#include "electrical/comtrade.h"
#include "electrical/comtrade_text.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::electrical {
namespace {

using Code = Error::Code;
constexpr double most_channels = 10000.0;
constexpr double most_samples = 1e9;

/// Walks the lines of a .cfg and keeps the first fault with its line.
class CfgReader {
public:
    CfgReader(std::string_view text, std::string_view name) : m_lines(text_lines(text)), m_name(name) {}

    std::vector<std::string_view> next()
    {
        if (m_at >= m_lines.size()) {
            refuse("the file ends too early");
            return {{}};
        }
        return comma_fields(m_lines[m_at++]);
    }
    [[nodiscard]] bool more() const { return m_at < m_lines.size(); }

    double number(std::vector<std::string_view> const& fields, std::size_t i, char const* what)
    {
        auto const value = i < fields.size() ? number_in(fields[i]) : std::nullopt;
        if (!value)
            refuse(fmt::format("{} \"{}\" is not a number", what, i < fields.size() ? fields[i] : ""));
        return value.value_or(0.0);
    }
    double number_or(std::vector<std::string_view> const& fields, std::size_t i, double otherwise) const
    {
        return i < fields.size() ? number_in(fields[i]).value_or(otherwise) : otherwise;
    }
    double count(std::vector<std::string_view> const& fields, std::size_t i, char const* what, double most)
    {
        double const value = number(fields, i, what);
        if (value < 0.0 || value > most || value != std::floor(value)) {
            refuse(fmt::format("{} {} is not a count up to {:g}", what, value, most));
            return 0.0;
        }
        return value;
    }
    /// Channel counts are written "4A" and "16D".
    std::size_t channels(std::vector<std::string_view> const& fields, std::size_t i, char letter)
    {
        std::string_view field = i < fields.size() ? fields[i] : std::string_view{};
        if (field.empty() || lower_case(field.substr(field.size() - 1))[0] != letter) {
            refuse(
                fmt::format("the channel count \"{}\" should end in {}", field, letter == 'a' ? 'A' : 'D'));
            return 0;
        }
        field.remove_suffix(1);
        return static_cast<std::size_t>(count({field}, 0, "the channel count", most_channels));
    }
    std::string text(std::vector<std::string_view> const& fields, std::size_t i)
    {
        if (i >= fields.size())
            return {};
        if (is_utf8(fields[i]))
            return std::string(fields[i]);
        latin1 = true;
        return from_latin1(fields[i]);
    }
    void refuse(std::string detail)
    {
        if (!m_error)
            m_error = Error{Code::corrupt, fmt::format("{}.cfg:{}", m_name, m_at), std::move(detail)};
    }
    [[nodiscard]] std::optional<Error> const& error() const { return m_error; }

    bool latin1 = false;

private:
    std::vector<std::string_view> m_lines;
    std::string m_name;
    std::size_t m_at = 0;
    std::optional<Error> m_error;
};

void read_analog(CfgReader& in, Comtrade& r, std::size_t count)
{
    for (std::size_t i = 0; i < count && !in.error(); ++i) {
        auto const f = in.next();
        AnalogChannel c;
        c.name = in.text(f, 1);
        c.phase = in.text(f, 2);
        c.unit = in.text(f, 4);
        c.gain = in.number(f, 5, "the channel's multiplier");
        c.offset = in.number(f, 6, "the channel's offset");
        c.skew_s = in.number_or(f, 7, 0.0) * 1e-6;
        c.lowest = in.number_or(f, 8, -99999.0);
        c.highest = in.number_or(f, 9, 99998.0);
        c.primary = in.number_or(f, 10, 1.0);
        c.secondary = in.number_or(f, 11, 1.0);
        c.primary_values = f.size() <= 12 || lower_case(f[12]) != "s";
        r.analog.push_back(std::move(c));
    }
}

void read_digital(CfgReader& in, Comtrade& r, std::size_t count)
{
    for (std::size_t i = 0; i < count && !in.error(); ++i) {
        auto const f = in.next();
        DigitalChannel c;
        c.name = in.text(f, 1);
        // 1991 writes n, name, state; later n, name, phase, component, state.
        bool const old_form = f.size() <= 3;
        c.phase = old_form ? "" : in.text(f, 2);
        c.normal = in.number_or(f, old_form ? 2 : 4, 0.0) != 0.0;
        r.digital.push_back(std::move(c));
    }
}

void read_rates(CfgReader& in, Comtrade& r)
{
    auto const count = in.count(in.next(), 0, "the number of sampling rates", 10000.0);
    double const lines = count == 0.0 ? 1.0 : count;
    for (double i = 0.0; i < lines && !in.error(); ++i) {
        auto const f = in.next();
        double const hertz = in.number(f, 0, "the sampling rate");
        auto const last = static_cast<std::int64_t>(in.count(f, 1, "the last sample", most_samples));
        if (count > 0.0 && !(hertz > 0.0) && !in.error())
            in.refuse(fmt::format("a sampling rate of {:g} Hz is not possible", hertz));
        if (!r.rates.empty() && last < r.rates.back().last_sample)
            in.refuse("the last samples of the rates do not rise");
        if (count > 0.0)
            r.rates.push_back({hertz, last});
    }
}

/// Days from a fixed day, for differences only (proleptic Gregorian calendar).
double day_number(double year, double month, double day)
{
    if (month < 3.0) {
        year -= 1.0;
        month += 12.0;
    }
    return 365.0 * year + std::floor(year / 4.0) - std::floor(year / 100.0) + std::floor(year / 400.0) +
           std::floor((153.0 * (month - 3.0) + 2.0) / 5.0) + day;
}

std::vector<double> split_numbers(std::string_view text, char mark)
{
    std::vector<double> values;
    for (;;) {
        std::size_t const end = text.find(mark);
        values.push_back(number_in(text.substr(0, end)).value_or(NAN));
        if (end == std::string_view::npos)
            return values;
        text.remove_prefix(end + 1);
    }
}

/// A date and time as written, day and seconds apart: one number would lose the microseconds.
struct Moment {
    double day = NAN, second = NAN;
};

/// NaN where it cannot be read. 1991 puts the month first.
Moment moment_of(std::vector<std::string_view> const& fields, int revision)
{
    if (fields.size() < 2)
        return {};
    auto date = split_numbers(fields[0], '/');
    auto const time = split_numbers(fields[1], ':');
    if (date.size() != 3 || time.size() != 3)
        return {};
    if (revision == 1991)
        std::swap(date[0], date[1]);
    if (date[1] > 12.0 && date[0] <= 12.0)
        std::swap(date[0], date[1]); // the other order is the only one that can be meant
    double const year = date[2] < 100.0 ? date[2] + (date[2] < 70.0 ? 2000.0 : 1900.0) : date[2];
    return {day_number(year, date[1], date[0]), time[0] * 3600.0 + time[1] * 60.0 + time[2]};
}

std::string joined(std::vector<std::string_view> const& fields)
{
    std::string text;
    for (auto f : fields) {
        if (!text.empty())
            text += ' ';
        text += f;
    }
    return is_utf8(text) ? text : from_latin1(text);
}

void read_moments(CfgReader& in, Comtrade& r)
{
    auto const start = in.next();
    r.start = joined(start);
    Moment const begin = moment_of(start, r.revision);
    auto const trigger = in.next();
    r.trigger = joined(trigger);
    Moment const event = moment_of(trigger, r.revision);
    double const after = (event.day - begin.day) * 86400.0 + (event.second - begin.second);
    // An unset trigger is written as a date decades away.
    if (std::isfinite(after) && after >= 0.0 && after < 3600.0)
        r.trigger_s = after;
    else
        r.warnings.push_back("the trigger time \"" + r.trigger +
                             "\" is not set or not after the start: not used");
    // Nine decimals of a second mean nanosecond stamps (2013).
    auto const nine = [](std::vector<std::string_view> const& f) {
        return f.size() > 1 && f[1].find('.') != std::string_view::npos &&
               f[1].size() - f[1].find('.') - 1 >= 9;
    };
    if (r.revision == 2013 && (nine(start) || nine(trigger)))
        r.stamp_unit_s = 1e-9;
}

void read_data_kind(CfgReader& in, Comtrade& r)
{
    std::string const kind = lower_case(in.next().front());
    if (kind == "ascii")
        r.data = ComtradeData::ascii;
    else if (kind == "binary")
        r.data = ComtradeData::binary;
    else if (kind == "binary32")
        r.data = ComtradeData::binary32;
    else if (kind == "float32")
        r.data = ComtradeData::float32;
    else
        in.refuse(fmt::format("\"{}\" is no file type: ASCII, BINARY, BINARY32 or FLOAT32",
                              is_utf8(kind) ? kind : "?"));
    if (r.revision == 1991 || !in.more())
        return;
    double const multiplier = in.number_or(in.next(), 0, 1.0);
    if (multiplier > 0.0)
        r.stamp_unit_s *= multiplier;
}

void read_revision(Comtrade& r, std::vector<std::string_view> const& fields)
{
    if (fields.size() < 3 || fields[2].empty()) {
        r.revision = 1991;
        return;
    }
    double const year = number_in(fields[2]).value_or(1999.0);
    r.revision = year <= 1991.0 ? 1991 : year < 2013.0 ? 1999 : 2013;
    if (year != r.revision)
        r.warnings.push_back(
            fmt::format("revision year {:g} is none of the standard: read as {}", year, r.revision));
}

} // namespace

Result<Comtrade> read_comtrade_cfg(std::string_view cfg, std::string_view name)
{
    if (cfg.starts_with("\xEF\xBB\xBF"))
        cfg.remove_prefix(3);
    CfgReader in(cfg, name);
    Comtrade r;
    auto const head = in.next();
    r.station = in.text(head, 0);
    r.device = in.text(head, 1);
    read_revision(r, head);
    auto const counts = in.next();
    std::size_t const analog = in.channels(counts, 1, 'a');
    std::size_t const digital = in.channels(counts, 2, 'd');
    double const total = in.count(counts, 0, "the channel total", 2.0 * most_channels);
    if (!in.error() && total != static_cast<double>(analog + digital))
        r.warnings.push_back(fmt::format("the channel total {:g} is not {} + {}", total, analog, digital));
    read_analog(in, r, analog);
    read_digital(in, r, digital);
    r.frequency_hz = in.number_or(in.next(), 0, 0.0);
    read_rates(in, r);
    read_moments(in, r);
    read_data_kind(in, r);
    if (in.error())
        return tl::unexpected(*in.error());
    if (in.latin1)
        r.warnings.push_back("names are not UTF-8: shown as Latin-1, which may be wrong for other alphabets");
    return r;
}

} // namespace isochore::electrical
