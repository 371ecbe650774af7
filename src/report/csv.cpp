#include "report/csv.h"
#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace isochore::report {

namespace {

/// Drops digits from the front and says whether there were any.
bool take_digits(std::string_view& text)
{
    std::size_t const count = std::min(text.find_first_not_of("0123456789"), text.size());
    text.remove_prefix(count);
    return count > 0;
}

void take_sign(std::string_view& text)
{
    if (!text.empty() && (text.front() == '-' || text.front() == '+'))
        text.remove_prefix(1);
}

bool looks_like_formula(std::string_view text)
{
    if (text.empty())
        return false;
    if (text.front() == '\t' || text.front() == '\r' || text.front() == '\n' || text.front() == '\0')
        return true;
    std::size_t const start = text.find_first_not_of(" \t\r\n");
    if (start == std::string_view::npos)
        return false;
    text.remove_prefix(start);
    static constexpr std::array<std::string_view, 8> starts{"=", "+", "-", "@", "＝", "＋", "－", "＠"};
    return std::any_of(starts.begin(), starts.end(), [&](std::string_view s) { return text.starts_with(s); });
}

std::string quoted(std::string_view text)
{
    if (text.find_first_of(",\"\r\n") == std::string_view::npos)
        return std::string(text);
    std::string out = "\"";
    for (char const c : text) {
        out += c;
        if (c == '"')
            out += c;
    }
    return out + "\"";
}

} // namespace

bool is_plain_number(std::string_view text)
{
    take_sign(text);
    bool const whole = take_digits(text);
    bool part = false;
    if (!text.empty() && text.front() == '.') {
        text.remove_prefix(1);
        part = take_digits(text);
    }
    if (!whole && !part)
        return false;
    if (!text.empty() && (text.front() == 'e' || text.front() == 'E')) {
        text.remove_prefix(1);
        take_sign(text);
        if (!take_digits(text))
            return false;
    }
    return text.empty();
}

Result<std::string> csv_text(std::vector<std::vector<CsvField>> const& rows)
{
    using Code = Error::Code;
    std::string out;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        if (rows[r].size() != rows.front().size())
            return fail(
                Code::invalid_input, fmt::format("row {}", r + 1),
                fmt::format("{} fields where the first row has {}", rows[r].size(), rows.front().size()));
        for (std::size_t c = 0; c < rows[r].size(); ++c) {
            auto const& field = rows[r][c];
            if (field.number && !is_plain_number(field.text))
                return fail(Code::invalid_input, fmt::format("row {}, field {}", r + 1, c + 1),
                            fmt::format("\"{}\" is not a plain number", field.text));
            if (c > 0)
                out += ',';
            if (!field.number && looks_like_formula(field.text))
                out += quoted("'" + field.text);
            else
                out += quoted(field.text);
        }
        out += "\r\n";
    }
    return out;
}

} // namespace isochore::report
