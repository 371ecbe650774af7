#include "electrical/comtrade_text.h"
#include <charconv>
#include <cmath>

namespace isochore::electrical {

std::string_view trimmed(std::string_view text)
{
    constexpr std::string_view blanks = " \t\r\n\x1a";
    std::size_t const first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos)
        return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::vector<std::string_view> text_lines(std::string_view text)
{
    while (!text.empty() && text.back() == '\x1a')
        text.remove_suffix(1);
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        std::size_t const end = text.find_first_of("\r\n");
        lines.push_back(text.substr(0, end));
        if (end == std::string_view::npos)
            break;
        bool const pair = text[end] == '\r' && end + 1 < text.size() && text[end + 1] == '\n';
        text.remove_prefix(end + (pair ? 2 : 1));
    }
    return lines;
}

std::vector<std::string_view> comma_fields(std::string_view line)
{
    std::vector<std::string_view> fields;
    for (;;) {
        std::size_t const end = line.find(',');
        fields.push_back(trimmed(line.substr(0, end)));
        if (end == std::string_view::npos)
            return fields;
        line.remove_prefix(end + 1);
    }
}

std::string lower_case(std::string_view text)
{
    std::string lower(text);
    for (char& c : lower)
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
    return lower;
}

std::optional<double> number_in(std::string_view text)
{
    text = trimmed(text);
    if (!text.empty() && text.front() == '+')
        text.remove_prefix(1);
    double value = 0.0;
    auto const [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (text.empty() || problem != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

bool is_utf8(std::string_view text)
{
    std::size_t i = 0;
    while (i < text.size()) {
        auto const byte = static_cast<unsigned char>(text[i++]);
        int const more = byte < 0x80                   ? 0
                         : byte >= 0xC2 && byte < 0xE0 ? 1
                         : byte >= 0xE0 && byte < 0xF0 ? 2
                         : byte >= 0xF0 && byte < 0xF5 ? 3
                                                       : -1;
        if (more < 0)
            return false;
        for (int k = 0; k < more; ++k) {
            if (i >= text.size() || (static_cast<unsigned char>(text[i]) & 0xC0) != 0x80)
                return false;
            ++i;
        }
    }
    return true;
}

std::string from_latin1(std::string_view text)
{
    std::string out;
    for (char c : text) {
        auto const byte = static_cast<unsigned char>(c);
        if (byte < 0x80) {
            out += c;
        } else {
            out += static_cast<char>(0xC0 | (byte >> 6));
            out += static_cast<char>(0x80 | (byte & 0x3F));
        }
    }
    return out;
}

} // namespace isochore::electrical
