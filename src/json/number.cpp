#include "json/number.h"
#include <array>
#include <charconv>
#include <string_view>

namespace isochore {
namespace {

struct Decimal {
    std::string digits; ///< without point or trailing zeros
    int point = 0;      ///< value = 0.digits * 10^point
};

// Shortest digits that round-trip; std::to_chars guarantees them, and the nearest of them, as ECMA-262 asks.
Decimal shortest(double magnitude)
{
    std::array<char, 32> buffer{};
    auto const end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), magnitude, std::chars_format::scientific);
    std::string_view const text(buffer.data(), static_cast<std::size_t>(end.ptr - buffer.data()));
    std::size_t const e = text.find('e');
    Decimal out;
    for (char const c : text.substr(0, e))
        if (c != '.')
            out.digits += c;
    std::string_view exponent = text.substr(e + 1);
    if (exponent.front() == '+')
        exponent.remove_prefix(1);
    int power = 0;
    std::from_chars(exponent.data(), exponent.data() + exponent.size(), power);
    out.point = power + 1;
    return out;
}

} // namespace

void append_ecmascript_number(std::string& out, double value)
{
    if (value == 0.0) {
        out += '0';
        return;
    }
    if (value < 0.0)
        out += '-';
    Decimal const number = shortest(value < 0.0 ? -value : value);
    int const count = static_cast<int>(number.digits.size());
    if (number.point > 21 || number.point < -5) {
        out += number.digits[0];
        if (count > 1)
            out.append(".").append(number.digits, 1);
        out += number.point > 0 ? "e+" : "e-";
        out += std::to_string(number.point > 0 ? number.point - 1 : 1 - number.point);
    } else if (number.point <= 0) {
        out.append("0.").append(static_cast<std::size_t>(-number.point), '0').append(number.digits);
    } else if (count <= number.point) {
        out.append(number.digits).append(static_cast<std::size_t>(number.point - count), '0');
    } else {
        std::size_t const whole = static_cast<std::size_t>(number.point);
        out.append(number.digits, 0, whole).append(".").append(number.digits, whole);
    }
}

} // namespace isochore
