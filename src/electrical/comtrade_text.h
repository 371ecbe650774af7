#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::electrical {

/// Lines without their ends; CR LF, LF and CR count; a trailing 0x1A (end of file of old systems) is dropped.
[[nodiscard]] std::vector<std::string_view> text_lines(std::string_view text);
/// Comma-separated fields, trimmed.
[[nodiscard]] std::vector<std::string_view> comma_fields(std::string_view line);
[[nodiscard]] std::string_view trimmed(std::string_view text);
[[nodiscard]] std::string lower_case(std::string_view text);
/// A number filling the whole text; empty otherwise. A leading plus is allowed.
[[nodiscard]] std::optional<double> number_in(std::string_view text);
[[nodiscard]] bool is_utf8(std::string_view text);
/// Latin-1 bytes as UTF-8.
[[nodiscard]] std::string from_latin1(std::string_view text);

} // namespace isochore::electrical
