#include "screens/demo_sheets.h"
#include "window/png.h"
#include "window/surface.h"
#include <cstdio>
#include <cstdlib>
#include <filesystem>

/// screens_gallery OUT [filter]: writes OUT/<sheet>-<theme>-<size>.png for every demonstration sheet, in
/// plain English and lengthened as German is, whose name contains the filter.
namespace {

using namespace isochore;

struct Format {
    char const* name;
    int width, height;
    double dpi;
};

// A 10.1 inch tablet at three resolutions, upright and lying, and the sizes a 12 inch one has.
constexpr Format formats[] = {{"1280x800", 1280, 800, 149.5},
                              {"800x1280", 800, 1280, 149.5},
                              {"1920x1200", 1920, 1200, 224.2},
                              {"2560x1600", 2560, 1600, 299.0},
                              {"1200x1920", 1200, 1920, 224.2}};

bool paint(window::Surface& surface, demo::Sheet const& sheet, screens::Theme const& theme, bool lengthened,
           std::string const& file)
{
    auto const make = [&](screens::PictureSpace space) {
        return lengthened ? demo::lengthened(sheet.make(space)) : sheet.make(space);
    };
    auto const view = make(surface.picture_space(make({80, 60})));
    (void)surface.draw(view, theme, {});
    auto const done = window::write_png(file, surface.width_px(), surface.height_px(), surface.pixels());
    if (!done)
        std::fprintf(stderr, "%s\n", done.error().detail.c_str());
    return done.has_value();
}

} // namespace

int main(int count, char** words)
{
    if (count < 2) {
        std::fprintf(stderr, "screens_gallery OUT_FOLDER [filter]\n");
        return 2;
    }
    std::filesystem::path const folder = words[1];
    std::filesystem::create_directories(folder);
    std::string const filter = count > 2 ? words[2] : "";
    window::WindowOptions options;
    options.driver = std::getenv("DISPLAY") == nullptr ? "offscreen" : "";
    auto surface = window::Surface::open(options);
    if (!surface) {
        std::fprintf(stderr, "%s\n", surface.error().detail.c_str());
        return 1;
    }
    for (auto const& format : formats)
        for (auto const& theme : screens::themes())
            for (auto const& sheet : demo::sheets())
                for (bool const lengthened : {false, true}) {
                    std::string const name =
                        sheet.name + "-" + theme.name + "-" + format.name + (lengthened ? "-lengthened" : "");
                    if (name.find(filter) == std::string::npos)
                        continue;
                    (*surface)->set_size(format.width, format.height);
                    (*surface)->set_dpi(format.dpi);
                    if (!paint(**surface, sheet, theme, lengthened, folder / (name + ".png")))
                        return 1;
                }
    return 0;
}
