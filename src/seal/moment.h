#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace isochore::seal {

/// "2026-11-25T13:05:09.120Z" (RFC 3339) of milliseconds since 1970-01-01T00:00:00Z.
[[nodiscard]] std::string moment_text(std::int64_t utc_ms);

/// The milliseconds of exactly that form; nothing for any other text.
[[nodiscard]] std::optional<std::int64_t> moment_ms(std::string_view text);

} // namespace isochore::seal
