#pragma once
#include "media/signing.h"
#include <sodium.h>
#include <stdexcept>
#include <string>

/// Real Ed25519 keys (RFC 8032), made from a word so that a test can be repeated. Only tests make keys so.
namespace isochore::test {

inline std::string hex(unsigned char const* bytes, std::size_t n)
{
    static constexpr char digits[] = "0123456789abcdef";
    std::string out;
    for (std::size_t i = 0; i < n; ++i) {
        out += digits[bytes[i] >> 4];
        out += digits[bytes[i] & 15];
    }
    return out;
}

inline std::string bytes_of(std::string_view text)
{
    std::string out;
    for (std::size_t i = 0; i + 1 < text.size(); i += 2)
        out += static_cast<char>(std::stoi(std::string(text.substr(i, 2)), nullptr, 16));
    return out;
}

inline media::Signer signer(std::string const& word)
{
    if (sodium_init() < 0)
        throw std::runtime_error("libsodium does not start");
    unsigned char seed[crypto_sign_SEEDBYTES], pub[crypto_sign_PUBLICKEYBYTES];
    std::string secret(crypto_sign_SECRETKEYBYTES, '\0');
    crypto_generichash(seed, sizeof seed, reinterpret_cast<unsigned char const*>(word.data()), word.size(),
                       nullptr, 0);
    crypto_sign_seed_keypair(pub, reinterpret_cast<unsigned char*>(secret.data()), seed);
    return {hex(pub, sizeof pub), [secret](std::string_view bytes) {
                unsigned char signature[crypto_sign_BYTES];
                crypto_sign_detached(signature, nullptr, reinterpret_cast<unsigned char const*>(bytes.data()),
                                     bytes.size(), reinterpret_cast<unsigned char const*>(secret.data()));
                return hex(signature, sizeof signature);
            }};
}

inline bool verify(std::string_view key, std::string_view bytes, std::string_view signature)
{
    if (sodium_init() < 0 || key.size() != 64 || signature.size() != 128)
        return false;
    auto const k = bytes_of(key), s = bytes_of(signature);
    return crypto_sign_verify_detached(reinterpret_cast<unsigned char const*>(s.data()),
                                       reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size(),
                                       reinterpret_cast<unsigned char const*>(k.data())) == 0;
}

/// Trusts the key of one word, under that word as a name.
inline media::Trust trust(std::string const& word)
{
    return {{{signer(word).public_key_hex, word, "2025-01-01", ""}}, verify};
}

} // namespace isochore::test
