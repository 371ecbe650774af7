#pragma once
#include "drawing/picture.h"
#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::screens {

/// An sRGB colour, 0..255 a channel.
struct Rgb {
    std::uint8_t r = 0, g = 0, b = 0;
};

/// One colour for every role a drawing may name.
struct Theme {
    std::string name; ///< "print", "blueprint", "plain"
    std::array<Rgb, drawing::ink_count> colours{};

    [[nodiscard]] Rgb of(drawing::Ink ink) const { return colours.at(static_cast<std::size_t>(ink)); }
};

/// Print is black on white for the sun, blueprint light on dark blue for the cabinet at night, plain white on
/// black for eyes that need it.
[[nodiscard]] std::vector<Theme> const& themes();

/// The theme of that name; print when the name is not known.
[[nodiscard]] Theme const& theme_named(std::string_view name);

/// Contrast ratio of two sRGB colours, 1..21. Source: WCAG 2.1, definitions of contrast ratio and relative
/// luminance.
[[nodiscard]] double contrast(Rgb a, Rgb b);

/// A text ink and the background ink it is drawn on somewhere in the program.
struct TextPair {
    drawing::Ink text, background;
    bool body = false; ///< running text, held to the stricter ratio in print
};

/// Every pair in use. A screen that draws text on another pair is a fault, and the canvas records it.
[[nodiscard]] std::vector<TextPair> const& text_pairs();

} // namespace isochore::screens
