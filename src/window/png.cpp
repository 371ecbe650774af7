#include "window/png.h"
#include <png.h>

namespace isochore::window {

Result<void> write_png(std::string const& path, int width, int height, std::vector<std::uint8_t> const& rgb)
{
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(width);
    image.height = static_cast<png_uint_32>(height);
    image.format = PNG_FORMAT_RGB;
    if (png_image_write_to_file(&image, path.c_str(), 0, rgb.data(), width * 3, nullptr) == 0)
        return fail(Error::Code::io, path,
                    std::string("The picture cannot be written: ") + image.message + ".");
    return {};
}

} // namespace isochore::window
