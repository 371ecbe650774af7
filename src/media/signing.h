#pragma once
#include "files/signing.h"
#include "quantity/result.h"
#include "json/value.h"
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::media {

using files::Signer;
using files::Verifier;

/// An engineer whose sticks are taken without asking.
struct TrustedKey {
    std::string key; ///< 64 lower-case hex digits
    std::string name;
    std::string added_on;
    std::string
        newest_seen; ///< made_at of the newest set met from this key: an older one is stale; may be empty
};

/// What a reader of sticks believes.
struct Trust {
    std::vector<TrustedKey> keys;
    Verifier verify;
    [[nodiscard]] TrustedKey const* find(std::string_view key) const;
};

/// What two people read to each other to compare a key: the first 16 hex digits of the SHA-256 of its 32
/// bytes, in groups of four. Empty for a text that is not a key.
[[nodiscard]] std::string key_fingerprint(std::string_view public_key_hex);

/// The trust store as a file: {"format":"isochore.trust/1","keys":[{"key","name","added_on","newest_seen"}]}.
/// Errors: corrupt or unknown, naming the place; a key listed twice is refused.
[[nodiscard]] Result<std::vector<TrustedKey>> read_trusted_keys(std::string_view text, std::string_view name);
[[nodiscard]] std::string write_trusted_keys(std::vector<TrustedKey> const& keys);

} // namespace isochore::media
