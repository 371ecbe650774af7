#include "files/profile_text.h"
#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace isochore::files {
namespace {

using Code = Error::Code;
using Kind = model::ProfileField::Kind;

bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

bool is_lower(char c)
{
    return c >= 'a' && c <= 'z';
}

std::optional<int> whole(std::string_view text)
{
    int value = 0;
    auto const [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (text.empty() || !is_digit(text.front()) || problem != std::errc{} || end != text.data() + text.size())
        return std::nullopt;
    return value;
}

std::optional<Error> wrong_choice(model::ProfileField const& field, std::string_view value)
{
    if (std::find(field.choices.begin(), field.choices.end(), value) != field.choices.end())
        return std::nullopt;
    return Error{Code::invalid_input,
                 {},
                 fmt::format("\"{}\" is not one of: {}", printable(value), fmt::join(field.choices, ", "))};
}

} // namespace

bool is_profile_id(std::string_view text)
{
    return !text.empty() && text.size() <= 64 && text.front() != '-' &&
           std::all_of(text.begin(), text.end(),
                       [](char c) { return is_lower(c) || is_digit(c) || c == '-'; });
}

bool is_date(std::string_view text)
{
    if (text.size() != 10 || text[4] != '-' || text[7] != '-')
        return false;
    auto const year = whole(text.substr(0, 4)), month = whole(text.substr(5, 2)),
               day = whole(text.substr(8, 2));
    if (!year || !month || !day || *year < 1900 || *month < 1 || *month > 12 || *day < 1)
        return false;
    static constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool const leap = *year % 4 == 0 && (*year % 100 != 0 || *year % 400 == 0);
    return *day <= days[*month - 1] + (leap && *month == 2 ? 1 : 0);
}

bool is_status(std::string_view text)
{
    return text == "draft" || text == "checked" || text == "released" || text == "withdrawn";
}

bool has_control(std::string_view text)
{
    return std::any_of(text.begin(), text.end(),
                       [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

std::string printable(std::string_view text)
{
    constexpr std::size_t most = 80;
    std::size_t length = std::min(text.size(), most);
    while (length > 0 && length < text.size() && (static_cast<unsigned char>(text[length]) & 0xC0) == 0x80)
        --length;
    std::string out(text.substr(0, length));
    for (char& c : out)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
            c = '?';
    return length < text.size() ? out + "…" : out;
}

std::optional<NameplateRatio> read_nameplate_ratio(std::string_view text)
{
    auto const colon = text.find(':');
    if (colon == std::string_view::npos)
        return std::nullopt;
    auto const primary = whole(text.substr(0, colon)), secondary = whole(text.substr(colon + 1));
    if (!primary || !secondary || *primary == 0 || *secondary == 0)
        return std::nullopt;
    return NameplateRatio{*primary, *secondary};
}

std::optional<Error> refuse_value(model::ProfileField const& field, std::string_view value,
                                  std::string_view place)
{
    switch (field.kind) {
    case Kind::choice:
        return wrong_choice(field, value);
    case Kind::amount:
        if (auto const amount = parse_amount(value, field.dimension, place); !amount)
            return amount.error();
        return std::nullopt;
    case Kind::whole:
        if (!whole(value))
            return Error{Code::invalid_input, std::string(place),
                         fmt::format("\"{}\" is not a whole number", printable(value))};
        return std::nullopt;
    case Kind::flag:
        if (value != "yes" && value != "no")
            return Error{Code::invalid_input, std::string(place),
                         fmt::format("\"{}\" is neither yes nor no", printable(value))};
        return std::nullopt;
    case Kind::text:
        return std::nullopt;
    }
    return std::nullopt;
}

} // namespace isochore::files
