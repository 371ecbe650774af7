#include "cli/stick_trust.h"
#include "cli/bench.h"
#include "seal/keys.h"
#include "session/stick.h"
#include "json/hex.h"

namespace isochore::cli {
namespace {

/// A key that is there twice counts once: the first name given stays.
void add(media::Trust& trust, media::TrustedKey key)
{
    if (!trust.find(key.key))
        trust.keys.push_back(std::move(key));
}

} // namespace

Result<media::Trust> stick_trust(disk::Disk& disk, Places const& places, StickOptions const& o)
{
    media::Trust trust;
    trust.verify = seal::signature_holds;
    if (disk.exists(places.data_folder() / "tablet.key")) {
        auto const key = seal::load_or_make_key(disk, places.data_folder());
        if (!key)
            return tl::unexpected(key.error());
        add(trust, {key->public_key(), "this tablet", {}, {}});
    }
    if (disk.exists(places.data_folder() / "journal.db"))
        // What the tablet trusts; while its window is open the store is locked, and only keys given count.
        if (auto const bench = open_bench(places)) {
            auto const stored = session::tablet_trust(*(*bench)->workspace);
            if (!stored)
                return tl::unexpected(stored.error());
            trust.keys = stored->keys;
        }
    if (!o.trust.empty()) {
        auto const text = disk.read(o.trust, 1u << 20);
        if (!text)
            return tl::unexpected(text.error());
        auto keys = media::read_trusted_keys(*text, disk::Path(o.trust).filename().string());
        if (!keys)
            return tl::unexpected(keys.error());
        for (auto& key : *keys)
            add(trust, std::move(key));
    }
    for (auto const& key : o.keys) {
        if (!is_hex(key, 64))
            return fail(Error::Code::invalid_input, "--key",
                        "\"" + key + "\" is no public key: 64 lower-case hex digits are");
        add(trust, {key, "key given", {}, {}});
    }
    return trust;
}

} // namespace isochore::cli
