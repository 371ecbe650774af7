#include "media/signing.h"
#include "files/profile_text.h"
#include "json/hex.h"
#include "json/read.h"
#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace isochore::media {
namespace {

using Code = Error::Code;
constexpr std::string_view trust_format = "isochore.trust/1";

Result<std::string> text_of(Json const& object, std::string_view place, char const* key)
{
    auto const it = object.find(key);
    if (it == object.end() || !it->is_string())
        return fail(Code::corrupt, fmt::format("{}.{}", place, key),
                    fmt::format("\"{}\" must be a text", key));
    return it->get<std::string>();
}

Result<TrustedKey> read_key(Json const& item, std::string const& place)
{
    if (!item.is_object() || item.size() != 4)
        return fail(Code::corrupt, place, "a key needs exactly key, name, added_on and newest_seen");
    TrustedKey key;
    for (auto const& [name, member] : {std::pair{"key", &key.key},
                                       {"name", &key.name},
                                       {"added_on", &key.added_on},
                                       {"newest_seen", &key.newest_seen}}) {
        auto const text = text_of(item, place, name);
        if (!text)
            return tl::unexpected(text.error());
        *member = *text;
    }
    if (!is_hex(key.key, 64))
        return fail(Code::corrupt, place + ".key", "the key is not 64 lower-case hex digits");
    return key;
}

} // namespace

TrustedKey const* Trust::find(std::string_view key) const
{
    auto const it = std::find_if(keys.begin(), keys.end(), [&](TrustedKey const& k) { return k.key == key; });
    return it == keys.end() ? nullptr : &*it;
}

std::string key_fingerprint(std::string_view public_key_hex)
{
    std::array<unsigned char, 32> key{};
    if (!from_hex(public_key_hex, key))
        return {};
    std::string const hash = sha256_hex({reinterpret_cast<char const*>(key.data()), key.size()});
    return fmt::format("{} {} {} {}", hash.substr(0, 4), hash.substr(4, 4), hash.substr(8, 4),
                       hash.substr(12, 4));
}

Result<std::vector<TrustedKey>> read_trusted_keys(std::string_view text, std::string_view name)
{
    std::string const place(name);
    auto const document = read_json(text, name, {1u << 20, 8});
    if (!document)
        return tl::unexpected(document.error());
    if (!document->is_object() || !document->contains("format") || (*document)["format"] != trust_format)
        return fail(Code::unknown, place, fmt::format("this is not a trust store ({})", trust_format));
    auto const list = document->find("keys");
    if (list == document->end() || !list->is_array() || document->size() != 2)
        return fail(Code::corrupt, place, "a trust store holds \"format\" and a list \"keys\", nothing else");
    std::vector<TrustedKey> keys;
    for (std::size_t i = 0; i < list->size(); ++i) {
        auto key = read_key((*list)[i], fmt::format("{}: keys[{}]", place, i));
        if (!key)
            return tl::unexpected(key.error());
        if (std::any_of(keys.begin(), keys.end(), [&](TrustedKey const& k) { return k.key == key->key; }))
            return fail(Code::corrupt, fmt::format("{}: keys[{}]", place, i),
                        "this key is listed twice; keep one entry");
        keys.push_back(std::move(*key));
    }
    return keys;
}

std::string write_trusted_keys(std::vector<TrustedKey> const& keys)
{
    Json document = Json::object();
    document["format"] = trust_format;
    document["keys"] = Json::array();
    for (auto const& k : keys)
        document["keys"].push_back(
            Json{{"key", k.key}, {"name", k.name}, {"added_on", k.added_on}, {"newest_seen", k.newest_seen}});
    return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace isochore::media
