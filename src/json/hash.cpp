#include "json/hex.h"
#include "json/read.h"
#include <array>
#include <sodium/crypto_hash_sha256.h>

namespace isochore {

std::string sha256_hex(std::string_view bytes)
{
    std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
    crypto_hash_sha256(digest.data(), reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size());
    return to_hex(digest);
}

} // namespace isochore
