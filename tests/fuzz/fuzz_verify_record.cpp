#include "journal/chain.h"
#include "seal/record.h"
#include "json/read.h"
#include <cstdint>
#include <cstdlib>

using namespace isochore;

namespace {

std::string make_original()
{
    auto const key = seal::TabletKey::from_seed(std::string(64, '1'));
    std::vector<journal::Entry> chain;
    std::string prev(journal::no_hash);
    for (int i = 1; i <= 3; ++i) {
        chain.push_back(*journal::make_entry("j", i, prev, {{"typed", std::to_string(i) + ".50 bar g"}}));
        prev = chain.back().hash;
    }
    return *seal::seal_entries("j", chain, {{sha256_hex("a"), "a"}}, *key);
}

} // namespace

/// Whatever the bytes: no crash; and of all texts under our key only the one that was sealed verifies.
extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size)
{
    static std::string const original = make_original();
    static std::string const key = seal::verify_record(original)->signed_by;
    std::string const text(reinterpret_cast<char const*>(data), size);
    auto const record = seal::verify_record(text);
    if (record && record->signed_by == key && text != original)
        std::abort();
    if (text == original && !record)
        std::abort();
    return 0;
}
