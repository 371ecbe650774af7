#include "session/trust_store.h"
#include "seal/keys.h"
#include "session/stick.h"
#include "json/hex.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using Code = Error::Code;

namespace {

constexpr std::string_view trust_job = "@trust";
constexpr std::size_t longest_name = 80;

auto find_key(std::vector<KnownKey>& keys, std::string_view key)
{
    return std::find_if(keys.begin(), keys.end(), [&](KnownKey const& k) { return k.key.key == key; });
}

} // namespace

Result<std::vector<KnownKey>> TrustStore::all()
{
    auto const entries = m_store.entries(trust_job);
    if (!entries)
        return tl::unexpected(entries.error());
    auto const newest = seen();
    if (!newest)
        return tl::unexpected(newest.error());
    std::vector<KnownKey> keys;
    for (auto const& entry : *entries) {
        Json const body = entry.json();
        std::string const kind = text_member(body, "kind"), key = text_member(body, "key");
        if (kind == "key.trusted")
            keys.push_back({{key, text_member(body, "name"), text_member(body, "at"), {}},
                            false,
                            text_member(body, "by")});
        else if (auto const it = find_key(keys, key); kind == "key.removed" && it != keys.end())
            keys.erase(it);
    }
    for (auto& k : keys)
        if (auto const it = newest->find(k.key.key); it != newest->end())
            k.key.newest_seen = it->second;
    return keys;
}

Result<std::map<std::string, std::string, std::less<>>> TrustStore::seen()
{
    auto const entries = m_store.entries(trust_job);
    if (!entries)
        return tl::unexpected(entries.error());
    std::map<std::string, std::string, std::less<>> newest;
    for (auto const& entry : *entries) {
        Json const body = entry.json();
        if (text_member(body, "kind") != "set.seen")
            continue;
        std::string& at = newest[text_member(body, "key")];
        at = std::max(at, text_member(body, "made_at"));
    }
    return newest;
}

Result<void> TrustStore::add(std::string_view key, std::string_view name, std::string_view by, Now const& now)
{
    if (!is_hex(key, 64))
        return fail(Code::invalid_input, "key", "a public key is 64 lower-case hex digits");
    if (name.find_first_not_of(' ') == std::string_view::npos || name.size() > longest_name)
        return fail(Code::invalid_input, "name", "say whose key it is, in at most 80 characters");
    auto keys = all();
    if (!keys)
        return tl::unexpected(keys.error());
    if (auto const it = find_key(*keys, key); it != keys->end())
        return fail(Code::denied, "key", fmt::format("this key is trusted already, as {}", it->key.name));
    auto const entry = m_store.append(
        trust_job,
        {{"kind", "key.trusted"}, {"key", key}, {"name", name}, {"by", by}, {"at", utc_stamp(now)}});
    return entry ? Result<void>() : Result<void>(tl::unexpected(entry.error()));
}

Result<void> TrustStore::remove(std::string_view key, std::string_view by, Now const& now)
{
    auto keys = all();
    if (!keys)
        return tl::unexpected(keys.error());
    if (find_key(*keys, key) == keys->end())
        return fail(Code::not_found, "key", "this key is not among the trusted ones");
    auto const entry = m_store.append(
        trust_job, {{"kind", "key.removed"}, {"key", key}, {"by", by}, {"at", utc_stamp(now)}});
    return entry ? Result<void>() : Result<void>(tl::unexpected(entry.error()));
}

Result<void> TrustStore::see(media::VerifiedSet const& set, Now const& now)
{
    auto const newest = seen();
    if (!newest)
        return tl::unexpected(newest.error());
    auto const it = newest->find(set.key);
    std::vector<media::TrustedKey> before = {
        {set.key, {}, {}, it == newest->end() ? std::string() : it->second}};
    auto after = before;
    media::remember_set(after, set);
    if (after.front().newest_seen == before.front().newest_seen)
        return {};
    auto const entry = m_store.append(trust_job, {{"kind", "set.seen"},
                                                  {"key", set.key},
                                                  {"set", set.set},
                                                  {"made_at", set.made_at},
                                                  {"at", utc_stamp(now)}});
    return entry ? Result<void>() : Result<void>(tl::unexpected(entry.error()));
}

Result<std::vector<KnownKey>> known_keys(Workspace& workspace)
{
    auto const key = seal::load_or_make_key(workspace.disk(), workspace.folders().data);
    if (!key)
        return tl::unexpected(key.error());
    auto keys = TrustStore(workspace.journal()).all();
    if (!keys)
        return keys;
    auto const trust = tablet_trust(workspace);
    if (!trust)
        return tl::unexpected(trust.error());
    keys->insert(keys->begin(), KnownKey{*trust->find(key->public_key()), true, {}});
    return keys;
}

Result<media::Trust> tablet_trust(Workspace& workspace)
{
    auto const key = seal::load_or_make_key(workspace.disk(), workspace.folders().data);
    if (!key)
        return tl::unexpected(key.error());
    TrustStore store(workspace.journal());
    auto const keys = store.all();
    if (!keys)
        return tl::unexpected(keys.error());
    auto const newest = store.seen();
    if (!newest)
        return tl::unexpected(newest.error());
    media::Trust trust;
    trust.verify = seal::signature_holds;
    auto const own = newest->find(key->public_key());
    trust.keys.push_back(
        {key->public_key(), "this tablet", {}, own == newest->end() ? std::string() : own->second});
    for (auto const& k : *keys)
        if (k.key.key != key->public_key())
            trust.keys.push_back(k.key);
    return trust;
}

} // namespace isochore::session
