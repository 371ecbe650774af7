/// Paints every sample picture to PNG files, for people to look at: drawing_gallery FOLDER [PIXELS_PER_MM].
#include "../sample_pictures.h"
#include "report/cairo_painter.h"
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>

int main(int count, char** arguments)
{
    using namespace isochore;
    if (count < 2) {
        fmt::print(stderr, "drawing_gallery FOLDER [PIXELS_PER_MM]\n");
        return 2;
    }
    std::filesystem::path const folder = arguments[1];
    double const scale = count > 2 ? std::atof(arguments[2]) : 6.0;
    std::filesystem::create_directories(folder);
    report::Type type;
    auto const measure = type.measure();
    for (auto const& sample : tests::sample_pictures())
        for (drawing::Space const space : {drawing::Space{60, 50}, {100, 80}, {75, 120}, {180, 120}}) {
            auto const picture = sample.draw(space, measure);
            auto const name =
                fmt::format("{}-{:.0f}x{:.0f}.png", sample.name, space.width_mm, space.height_mm);
            std::ofstream(folder / name, std::ios::binary)
                << report::picture_png(picture, report::paper_palette(), scale, type);
            fmt::print("{}: {}\n", name, picture.spoken);
        }
}
