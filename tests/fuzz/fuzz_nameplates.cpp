#include "files/csv.h"
#include "files/profile_csv.h"
#include "json/utf8.h"
#include <cstdint>
#include <cstdlib>

using namespace isochore;

/// Whatever the bytes: no crash, every row is reported on once, and a row is taken exactly when nothing is
/// held against it. A table in another encoding is refused whole.
extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size)
{
    std::string_view const text(reinterpret_cast<char const*>(data), size);
    auto const rows = files::read_csv(text, "n");
    auto const import = files::read_nameplates(text, "n", "a", "2025-01-01");
    bool const utf16 = text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF");
    if (utf16 || find_not_utf8(text) != std::string_view::npos) {
        if (import.errors.empty() || !import.rows.empty())
            std::abort();
        return 0;
    }
    if (!rows)
        return import.errors.empty() ? (std::abort(), 0) : 0;
    if (!rows->empty() && import.rows.size() != rows->size() - 1)
        std::abort();
    for (auto const& row : import.rows)
        if (row.taken != row.refused.empty() || (row.taken && row.profile.id.empty()))
            std::abort();
    return 0;
}
