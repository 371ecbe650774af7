#pragma once
#include <functional>
#include <string>
#include <string_view>

namespace isochore::files {

/// Signs with a key that this layer never sees (Ed25519, RFC 8032; the seal layer holds the keys).
struct Signer {
    std::string public_key_hex;                        ///< 64 lower-case hex digits
    std::function<std::string(std::string_view)> sign; ///< bytes to 128 lower-case hex digits; empty: refused
};

/// True when the signature (hex) is that of the key (hex) over the bytes.
using Verifier = std::function<bool(std::string_view public_key_hex, std::string_view bytes,
                                    std::string_view signature_hex)>;

} // namespace isochore::files
