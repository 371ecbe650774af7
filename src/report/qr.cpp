#include "report/qr.h"
#include <fmt/format.h>
#include <memory>
#include <qrencode.h>

namespace isochore::report {

Result<std::vector<std::vector<bool>>> qr_modules(std::string const& text)
{
    using Code = Error::Code;
    if (text.empty())
        return fail(Code::invalid_input, "qr", "a QR code of nothing was asked for");
    std::unique_ptr<QRcode, decltype(&QRcode_free)> const code(
        QRcode_encodeData(static_cast<int>(text.size()), reinterpret_cast<unsigned char const*>(text.data()),
                          0, QR_ECLEVEL_M),
        &QRcode_free);
    if (!code)
        return fail(Code::out_of_range, "qr",
                    fmt::format("{} bytes do not fit into a QR code; at most 2331 do", text.size()));
    auto const side = static_cast<std::size_t>(code->width);
    std::vector<std::vector<bool>> modules(side, std::vector<bool>(side));
    for (std::size_t y = 0; y < side; ++y)
        for (std::size_t x = 0; x < side; ++x)
            modules[y][x] = (code->data[y * side + x] & 1) != 0;
    return modules;
}

void draw_qr(drawing::Picture& picture, std::vector<std::vector<bool>> const& modules,
             drawing::Point top_left, double side)
{
    constexpr double quiet = 4.0; // modules, as ISO/IEC 18004 asks for
    double const pitch = side / (static_cast<double>(modules.size()) + 2.0 * quiet);
    for (std::size_t y = 0; y < modules.size(); ++y)
        for (std::size_t x = 0; x < modules[y].size();) {
            if (!modules[y][x]) {
                ++x;
                continue;
            }
            std::size_t end = x;
            while (end < modules[y].size() && modules[y][end])
                ++end;
            picture.filled_rect({top_left.x + (quiet + static_cast<double>(x)) * pitch,
                                 top_left.y + (quiet + static_cast<double>(y)) * pitch},
                                static_cast<double>(end - x) * pitch, pitch, drawing::Ink::line);
            x = end;
        }
}

} // namespace isochore::report
