#pragma once
#include <compare>
#include <cstddef>
#include <string_view>

namespace isochore {

/// Length of the UTF-8 character at `at` (RFC 3629: no overlong forms, no surrogates, at most U+10FFFF);
/// 0 when the bytes there are not one. `at` must be inside the text.
[[nodiscard]] std::size_t utf8_length(std::string_view text, std::size_t at);

/// Place of the first byte that is not UTF-8; npos when all of it is.
[[nodiscard]] std::size_t find_not_utf8(std::string_view text);

/// Order of two UTF-8 texts by UTF-16 code units, which RFC 8785 (3.2.3) asks for. It differs from the
/// order of bytes only where a character beyond U+FFFF meets one from U+E000 to U+FFFF.
[[nodiscard]] std::strong_ordering utf16_order(std::string_view a, std::string_view b);

} // namespace isochore
