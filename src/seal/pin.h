#pragma once
#include "quantity/result.h"
#include <cstdint>
#include <string>
#include <string_view>

namespace isochore::seal {

/// Whether a PIN may be used: 6 to 16 digits, not one that is tried first (one digit throughout, a run up or
/// down, a short block or doubled digits, fewer than three different digits). Errors: invalid_input with
/// the reason; never the PIN itself.
[[nodiscard]] Result<void> check_pin_rules(std::string_view pin);

/// Argon2id (RFC 9106) in its text form with salt and parameters: 19 MiB, 2 passes, 1 lane, the OWASP
/// Password Storage Cheat Sheet's setting. Some 30 ms, so not on the drawing thread.
[[nodiscard]] Result<std::string> hash_pin(std::string_view pin);
[[nodiscard]] bool pin_matches(std::string_view pin, std::string_view hash);

/// How long after `wrong` wrong tries in a row the next is taken: none for three, then half a minute,
/// doubling to an hour. Common practice, no source.
[[nodiscard]] std::int64_t pin_delay_ms(int wrong);

} // namespace isochore::seal
