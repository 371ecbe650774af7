#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace isochore::media {

inline constexpr std::string_view stick_folder = "ISOCHORE";
inline constexpr std::string_view manifest_name = "MANIFEST.JSN";

/// True for a name that FAT, exFAT and case-insensitive systems all store unchanged: one to eight of A-Z,
/// 0-9, _ and -, then at most a point and one to three of the same; no device name (CON, PRN, AUX, NUL,
/// COM1…LPT9).
[[nodiscard]] bool is_safe_name(std::string_view name);

/// "S0000001" and back. Numbers run from 1 to 9 999 999.
[[nodiscard]] std::string set_name(int number);
[[nodiscard]] std::optional<int> set_number(std::string_view name);

/// Text in upper case (ASCII only): to compare names as FAT does.
[[nodiscard]] std::string upper_case(std::string_view text);

} // namespace isochore::media
