#pragma once
#include "media/signing.h"
#include "json/hex.h"
#include <sodium.h>
#include <stdexcept>
#include <string>

/// Real Ed25519 keys (RFC 8032), made from a word so that a test can be repeated. Only tests make keys so.
namespace isochore::test {

inline media::Signer signer(std::string const& word)
{
    if (sodium_init() < 0)
        throw std::runtime_error("libsodium does not start");
    unsigned char seed[crypto_sign_SEEDBYTES], pub[crypto_sign_PUBLICKEYBYTES];
    std::string secret(crypto_sign_SECRETKEYBYTES, '\0');
    crypto_generichash(seed, sizeof seed, reinterpret_cast<unsigned char const*>(word.data()), word.size(),
                       nullptr, 0);
    crypto_sign_seed_keypair(pub, reinterpret_cast<unsigned char*>(secret.data()), seed);
    return {to_hex(pub), [secret](std::string_view bytes) {
                unsigned char signature[crypto_sign_BYTES];
                crypto_sign_detached(signature, nullptr, reinterpret_cast<unsigned char const*>(bytes.data()),
                                     bytes.size(), reinterpret_cast<unsigned char const*>(secret.data()));
                return to_hex(signature);
            }};
}

inline bool verify(std::string_view key, std::string_view bytes, std::string_view signature)
{
    unsigned char k[crypto_sign_PUBLICKEYBYTES], s[crypto_sign_BYTES];
    return sodium_init() >= 0 && from_hex(key, k) && from_hex(signature, s) &&
           crypto_sign_verify_detached(s, reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size(),
                                       k) == 0;
}

/// Trusts the key of one word, under that word as a name.
inline media::Trust trust(std::string const& word)
{
    return {{{signer(word).public_key_hex, word, "2025-01-01", ""}}, verify};
}

} // namespace isochore::test
