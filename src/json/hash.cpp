#include "json/read.h"
#include <array>
#include <sodium/crypto_hash_sha256.h>

namespace isochore {

std::string sha256_hex(std::string_view bytes)
{
    std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
    crypto_hash_sha256(digest.data(), reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size());
    static constexpr char hex[] = "0123456789abcdef";
    std::string out;
    out.reserve(2 * digest.size());
    for (unsigned char const byte : digest) {
        out += hex[byte >> 4];
        out += hex[byte & 15];
    }
    return out;
}

} // namespace isochore
