#include "media/unit_values.h"
#include <cstdint>
#include <cstdlib>

using namespace isochore;

/// Whatever the bytes: unit values that are read are written back as they were read; layering them over an
/// empty profile and reading back whatever settings they hold ends without a crash.
extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size)
{
    std::string_view const text(reinterpret_cast<char const*>(data), size);
    files::FileReport report;
    auto const unit = media::read_unit_values(text, "u", report);
    auto const settings = media::layer(model::Profile{}, unit);
    if (report.ok()) {
        files::FileReport again;
        auto const back = media::read_unit_values(media::write_unit_values(unit), "u", again);
        if (!again.ok() || back.values != unit.values || back.job != unit.job)
            std::abort();
        (void)media::compare_read_back(settings, unit.values);
    }
    if (auto const shown = media::read_settings(text, "s"))
        (void)media::compare_read_back(settings, *shown);
    return 0;
}
