#include "seal/keys.h"
#include "disk/whole_file.h"
#include "json/hex.h"
#include "json/read.h"
#include <sodium.h>

namespace isochore::seal {
namespace {

using Code = Error::Code;

constexpr std::string_view key_format = "isochore.key/1";
constexpr std::size_t key_file_limit = 4096;
constexpr std::size_t seed_bytes = crypto_sign_SEEDBYTES;

bool ready()
{
    static bool const done = sodium_init() >= 0;
    return done;
}

Error damaged(disk::Path const& file, std::string const& why)
{
    return {Code::corrupt, file.string(),
            "the signing key " + file.string() + " is damaged (" + why +
                "): it is left as it is; move it away to let the tablet make a new one"};
}

Result<std::string> read_seed(disk::Path const& file, std::string const& text)
{
    auto json = read_json(text, file.string(), {.bytes = key_file_limit, .depth = 2});
    if (!json || !json->is_object())
        return tl::unexpected<Error>(damaged(file, "it cannot be read"));
    auto const text_of = [&](char const* name) {
        auto const at = json->find(name);
        return at != json->end() && at->is_string() ? at->get<std::string>() : std::string();
    };
    if (text_of("format") != key_format)
        return tl::unexpected<Error>(damaged(file, "its format is not " + std::string(key_format)));
    auto key = TabletKey::from_seed(text_of("seed"));
    if (!key || key->public_key() != text_of("public"))
        return tl::unexpected<Error>(damaged(file, "its two halves do not belong together"));
    return text_of("seed");
}

Result<std::string> make_seed(disk::Disk& disk, disk::Path const& file)
{
    std::array<unsigned char, seed_bytes> seed{};
    randombytes_buf(seed.data(), seed.size());
    std::string seed_hex = to_hex(seed);
    sodium_memzero(seed.data(), seed.size());
    auto const key = TabletKey::from_seed(seed_hex);
    if (!key)
        return tl::unexpected<Error>(key.error());
    auto text = canonical_json({{"format", key_format}, {"public", key->public_key()}, {"seed", seed_hex}});
    if (!text)
        return text;
    auto const written = disk::write_whole(disk, file, *text, disk::Access::owner_only);
    sodium_memzero(text->data(), text->size());
    if (!written)
        return tl::unexpected<Error>(written.error());
    return seed_hex;
}

} // namespace

TabletKey::~TabletKey()
{
    sodium_memzero(m_secret.data(), m_secret.size());
}

Result<TabletKey> TabletKey::from_seed(std::string_view seed_hex)
{
    if (!ready())
        return fail(Code::device, "signing key", "the cryptography library cannot start on this machine");
    std::array<unsigned char, seed_bytes> seed{};
    if (!from_hex(seed_hex, seed))
        return fail(Code::corrupt, "signing key", "the seed is not 64 hex digits");
    TabletKey key;
    std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> public_key{};
    static_assert(std::tuple_size_v<decltype(key.m_secret)> == crypto_sign_SECRETKEYBYTES);
    crypto_sign_seed_keypair(public_key.data(), key.m_secret.data(), seed.data());
    sodium_memzero(seed.data(), seed.size());
    key.m_public = to_hex(public_key);
    return key;
}

std::string TabletKey::fingerprint() const
{
    return fingerprint_of(m_public);
}

std::string TabletKey::sign(std::string_view message) const
{
    std::array<unsigned char, crypto_sign_BYTES> signature{};
    crypto_sign_detached(signature.data(), nullptr, reinterpret_cast<unsigned char const*>(message.data()),
                         message.size(), m_secret.data());
    return to_hex(signature);
}

Result<TabletKey> load_or_make_key(disk::Disk& disk, disk::Path const& folder)
{
    if (!ready())
        return fail(Code::device, "signing key", "the cryptography library cannot start on this machine");
    disk::Path const file = folder / "tablet.key";
    Result<std::string> seed;
    if (disk.exists(file)) {
        auto text = disk.read(file, key_file_limit);
        if (!text)
            return tl::unexpected<Error>(text.error());
        // A crash may have come between the rename and its flush: made durable before anything is signed.
        if (auto flushed = disk.flush_directory(folder); !flushed && flushed.error().code != Code::denied)
            return tl::unexpected<Error>(flushed.error());
        seed = read_seed(file, *text);
        sodium_memzero(text->data(), text->size());
    } else {
        seed = make_seed(disk, file);
    }
    if (!seed)
        return tl::unexpected<Error>(seed.error());
    auto key = TabletKey::from_seed(*seed);
    sodium_memzero(seed->data(), seed->size());
    return key;
}

bool signature_holds(std::string_view public_key, std::string_view message, std::string_view signature)
{
    std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> key{};
    std::array<unsigned char, crypto_sign_BYTES> bytes{};
    return ready() && from_hex(public_key, key) && from_hex(signature, bytes) &&
           crypto_sign_verify_detached(bytes.data(), reinterpret_cast<unsigned char const*>(message.data()),
                                       message.size(), key.data()) == 0;
}

std::string fingerprint_of(std::string_view public_key)
{
    std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> key{};
    if (!from_hex(public_key, key))
        return {};
    std::string const digits = sha256_hex({reinterpret_cast<char const*>(key.data()), key.size()});
    std::string out;
    for (std::size_t i = 0; i < 16; ++i) {
        if (i > 0 && i % 4 == 0)
            out += ' ';
        out += digits[i];
    }
    return out;
}

} // namespace isochore::seal
