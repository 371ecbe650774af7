#include "files/profile_file.h"
#include "model/profile_compare.h"
#include <cstdint>
#include <cstdlib>

using namespace isochore;

/// Whatever the bytes: no crash; what is refused has a place; what is read is written so that it reads as the
/// same profile again, and checking and comparing it end.
extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size)
{
    std::string_view const text(reinterpret_cast<char const*>(data), size);
    files::FileReport report;
    auto const profile = files::read_profile(text, "p", report);
    for (auto const& error : report.errors)
        if (error.where.empty() || error.detail.empty())
            std::abort();
    (void)files::check_profile(profile, "p");
    if (!report.ok())
        return 0;
    auto const written = files::write_profile(profile);
    files::FileReport again;
    auto const back = files::read_profile(written, "p", again);
    if (!again.ok() || files::write_profile(back) != written || !model::compare(profile, back).empty())
        std::abort();
    return 0;
}
