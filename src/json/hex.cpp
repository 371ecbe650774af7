#include "json/hex.h"
#include <algorithm>

namespace isochore {
namespace {

int digit_value(char c)
{
    if (c >= '0' && c <= '9')
        return c - '0';
    if (c >= 'a' && c <= 'f')
        return c - 'a' + 10;
    return -1;
}

} // namespace

std::string to_hex(std::span<unsigned char const> bytes)
{
    static constexpr char digits[] = "0123456789abcdef";
    std::string out;
    out.reserve(2 * bytes.size());
    for (unsigned char const byte : bytes) {
        out += digits[byte >> 4];
        out += digits[byte & 15];
    }
    return out;
}

bool from_hex(std::string_view text, std::span<unsigned char> bytes)
{
    if (!is_hex(text, 2 * bytes.size()))
        return false;
    for (std::size_t i = 0; i < bytes.size(); ++i)
        bytes[i] = static_cast<unsigned char>(digit_value(text[2 * i]) * 16 + digit_value(text[2 * i + 1]));
    return true;
}

bool is_hex(std::string_view text, std::size_t count)
{
    return text.size() == count &&
           std::all_of(text.begin(), text.end(), [](char c) { return digit_value(c) >= 0; });
}

} // namespace isochore
