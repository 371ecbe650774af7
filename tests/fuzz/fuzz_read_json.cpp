#include "json/canonical_scan.h"
#include "json/read.h"
#include <cstdint>
#include <cstdlib>

using namespace isochore;

/// Whatever the bytes: no crash, what is read has one canonical form, and the scan and the writer agree.
extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size)
{
    std::string_view const text(reinterpret_cast<char const*>(data), size);
    CanonicalScan scan(text);
    bool const is_canonical = scan.value() && scan.finished();
    auto const value = read_json(text, "input");
    if (!value) {
        if (is_canonical || value.error().where.empty() || !canonical_json(Json(value.error().detail)))
            std::abort();
        return 0;
    }
    auto const once = canonical_json(*value);
    if (is_canonical != (once && *once == text))
        std::abort();
    if (!once)
        return 0; // a whole number that a double cannot hold
    auto const again = read_json(*once, "canonical");
    auto const twice = again ? canonical_json(*again) : again.map([](auto const&) { return std::string(); });
    if (!twice || *twice != *once)
        std::abort();
    return 0;
}
