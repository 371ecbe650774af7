#pragma once
#include <span>
#include <string>
#include <string_view>

namespace isochore {

/// Lower-case hex digits.
[[nodiscard]] std::string to_hex(std::span<unsigned char const> bytes);

/// Fills `bytes` from exactly twice as many lower-case digits; false for anything else.
[[nodiscard]] bool from_hex(std::string_view text, std::span<unsigned char> bytes);

/// Whether the text is such digits, `count` of them.
[[nodiscard]] bool is_hex(std::string_view text, std::size_t count);

} // namespace isochore
