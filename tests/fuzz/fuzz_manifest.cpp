#include "media/manifest.h"
#include "media/set_names.h"
#include <cstdint>
#include <cstdlib>
#include <set>

using namespace isochore;

/// Whatever the bytes, and even were every signature good: what is accepted names only plain files, each
/// once, within bounds.
extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size)
{
    std::string_view const text(reinterpret_cast<char const*>(data), size);
    auto const accept_any = [](auto, auto, auto) { return true; };
    auto const manifest = media::read_manifest(text, "m", "S0000001", accept_any);
    if (!manifest) {
        if (manifest.error().where.empty() || manifest.error().detail.empty())
            std::abort();
        return 0;
    }
    std::set<std::string> names;
    std::uint64_t total = 0;
    for (auto const& file : manifest->files) {
        total += file.bytes;
        if (!media::is_safe_name(file.name) || file.name == media::manifest_name ||
            !names.insert(file.name).second || file.sha256.size() != 64)
            std::abort();
    }
    if (total > media::most_set_bytes || manifest->set != "S0000001" ||
        !media::is_utc_time(manifest->made_at))
        std::abort();
    auto const refuse_all = [](auto, auto, auto) { return false; };
    if (media::read_manifest(text, "m", "S0000001", refuse_all))
        std::abort();
    return 0;
}
