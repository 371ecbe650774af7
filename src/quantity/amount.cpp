#include "quantity/amount.h"
#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace isochore {
namespace {

using Code = Error::Code;

std::string_view trim(std::string_view text)
{
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t'))
        text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t'))
        text.remove_suffix(1);
    return text;
}

bool is_number_character(char c)
{
    return (c >= '0' && c <= '9') || c == '.' || c == '+' || c == '-';
}

/// Length of the leading number; an exponent belongs to it only when digits follow.
std::size_t number_length(std::string_view text)
{
    std::size_t n = 0;
    while (n < text.size() && is_number_character(text[n]))
        ++n;
    if (n > 0 && n < text.size() && (text[n] == 'e' || text[n] == 'E')) {
        std::size_t m = n + 1;
        if (m < text.size() && (text[m] == '+' || text[m] == '-'))
            ++m;
        if (m < text.size() && text[m] >= '0' && text[m] <= '9') {
            while (m < text.size() && text[m] >= '0' && text[m] <= '9')
                ++m;
            n = m;
        }
    }
    return n;
}

/// Splits "bar g", "psig", "MPa abs" into the unit and its reference.
PressureReference take_reference(std::string_view& unit)
{
    struct Ending {
        std::string_view text;
        PressureReference reference;
    };
    static constexpr Ending endings[] = {{" abs", PressureReference::absolute},
                                         {" a", PressureReference::absolute},
                                         {" gauge", PressureReference::gauge},
                                         {" g", PressureReference::gauge}};
    for (auto const& e : endings)
        if (unit.size() > e.text.size() && unit.ends_with(e.text)) {
            unit = trim(unit.substr(0, unit.size() - e.text.size()));
            return e.reference;
        }
    if (unit == "psig" || unit == "barg") {
        unit.remove_suffix(1);
        return PressureReference::gauge;
    }
    if (unit == "psia" || unit == "bara") {
        unit.remove_suffix(1);
        return PressureReference::absolute;
    }
    return PressureReference::none;
}

std::string unit_examples(Dimension dimension)
{
    std::string list;
    int shown = 0;
    for (Unit const& unit : all_units())
        if (unit.dimension == dimension && shown < 4) {
            list += (shown++ ? ", " : "") + std::string(unit.name);
        }
    return list;
}

bool is_plain_number(Dimension d)
{
    return d == Dimension::count || d == Dimension::ratio || d == Dimension::fraction;
}

} // namespace

double Amount::in(std::string_view unit_name) const
{
    Unit const* wanted = find_unit(unit_name, dimension);
    return wanted ? wanted->from_si(si) : std::numeric_limits<double>::quiet_NaN();
}

Result<double> parse_number(std::string_view text, std::string_view where)
{
    std::string_view const t = trim(text);
    if (t.empty())
        return fail(Code::missing_input, std::string(where), "no number was entered");
    if (t.find(',') != std::string_view::npos)
        return fail(
            Code::invalid_input, std::string(where),
            fmt::format("\"{}\" has a comma: write the decimal point as a point and no thousands mark", t));
    std::string_view digits = t;
    if (digits.size() > 1 && digits.front() == '+' && digits[1] != '-')
        digits.remove_prefix(1);
    double value = 0.0;
    auto const [end, problem] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (problem != std::errc{} || end != digits.data() + digits.size() || !std::isfinite(value) ||
        !is_number_character(digits.front()) || digits.front() == '+')
        return fail(Code::invalid_input, std::string(where), fmt::format("\"{}\" is not a number", t));
    return value;
}

Result<Amount> parse_amount(std::string_view text, Dimension dimension, std::string_view where)
{
    std::string const place(where);
    std::string_view const t = trim(text);
    if (t.empty())
        return fail(Code::missing_input, place, "nothing was entered");
    std::size_t const split = number_length(t);
    if (split == 0)
        return fail(Code::invalid_input, place,
                    fmt::format("\"{}\" does not begin with a number; write for example \"1.5 {}\"", t,
                                si_unit(dimension).name));
    if (t.size() > split && t[split] == ',')
        return fail(
            Code::invalid_input, place,
            fmt::format("\"{}\" has a comma: write the decimal point as a point and no thousands mark", t));
    auto const number = parse_number(t.substr(0, split), where);
    if (!number)
        return tl::unexpected(number.error());

    Amount amount;
    amount.dimension = dimension;
    amount.typed = std::string(text);
    amount.value = *number;
    std::string_view unit = trim(t.substr(split));
    if (unit.empty()) {
        if (!is_plain_number(dimension))
            return fail(Code::invalid_input, place,
                        fmt::format("\"{}\" has no unit; for {} write for example {}", t,
                                    dimension_name(dimension), unit_examples(dimension)));
        amount.unit = &si_unit(dimension);
    } else {
        if (dimension == Dimension::pressure)
            amount.reference = take_reference(unit);
        amount.unit = find_unit(unit, dimension);
        if (!amount.unit)
            return fail(Code::invalid_input, place,
                        fmt::format("\"{}\" is not a unit of {}; known are {} and more", unit,
                                    dimension_name(dimension), unit_examples(dimension)));
        if (dimension == Dimension::pressure && amount.reference == PressureReference::none)
            return fail(
                Code::invalid_input, place,
                fmt::format("\"{}\" does not say whether the pressure is absolute or gauge; add abs or g",
                            t));
    }
    amount.si = amount.unit->to_si(amount.value);
    if (!std::isfinite(amount.si))
        return fail(Code::out_of_range, place, fmt::format("\"{}\" is too large to be real", t));
    if (dimension == Dimension::temperature && amount.si < 0.0)
        return fail(Code::out_of_range, place, fmt::format("\"{}\" is below absolute zero", t));
    if (dimension == Dimension::pressure) {
        if (amount.reference == PressureReference::absolute && amount.si < 0.0)
            return fail(Code::out_of_range, place, fmt::format("\"{}\" is below vacuum", t));
        // No place on land has more than about 1.1 bar of air to read below.
        if (amount.reference == PressureReference::gauge && amount.si < -110000.0)
            return fail(Code::out_of_range, place, fmt::format("\"{}\" gauge is below vacuum", t));
    }
    return amount;
}

std::string show_number(double value, int digits)
{
    if (!std::isfinite(value))
        return "–";
    if (value == 0.0)
        return "0";
    double const size = std::fabs(value);
    if (size < 1e-4 || size >= 1e7)
        return fmt::format("{:.{}e}", value, digits - 1);
    int const magnitude = static_cast<int>(std::floor(std::log10(size)));
    return show_fixed(value, std::max(0, digits - 1 - magnitude));
}

std::string show_short(double value, int digits)
{
    std::string text = show_number(value, digits);
    if (text.find('.') == std::string::npos || text.find('e') != std::string::npos)
        return text;
    while (text.ends_with('0'))
        text.pop_back();
    if (text.ends_with('.'))
        text.pop_back();
    return text;
}

std::string show_fixed(double value, int decimals)
{
    std::string text = fmt::format("{:.{}f}", value, decimals);
    if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos)
        text.erase(0, 1);
    return text;
}

int decimals_for(double u, int most)
{
    if (!(u > 0.0) || !std::isfinite(u))
        return most;
    int const magnitude = static_cast<int>(std::floor(std::log10(u)));
    return std::clamp(1 - magnitude, 0, most);
}

std::string show_amount(double si, Unit const& unit, int digits, PressureReference reference)
{
    std::string text = show_short(unit.from_si(si), digits);
    if (unit.name != "1")
        text += fmt::format("{}{}", unit.shown == "°" ? "" : " ", unit.label());
    if (reference == PressureReference::absolute)
        text += " abs";
    if (reference == PressureReference::gauge)
        text += " g";
    return text;
}

} // namespace isochore
