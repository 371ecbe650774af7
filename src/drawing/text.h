#pragma once
#include "drawing/picture.h"
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::drawing {

/// A piece of UTF-8 text one character long, starting at `at`; a broken byte counts as one character.
[[nodiscard]] std::size_t character_length(std::string_view text, std::size_t at);

/// Breaks a text into lines not wider than `width` mm, at spaces and at line ends in the text; a word wider
/// than a line is broken between characters. Never returns an empty list.
[[nodiscard]] std::vector<std::string> wrap_text(std::string_view text, double width, Face face, double size,
                                                 MeasureText const& measure);

/// Where the first word of a line ends. A number is one word with its unit ("4.94 bar g", "0.62 MPa abs") and
/// with a sign before it, a thread one with its size ("G 1/2").
[[nodiscard]] std::size_t end_of_word(std::string_view text);

/// Width in mm of the longest word, a number counting as one with its unit.
[[nodiscard]] double longest_word(std::string_view text, Face face, double size, MeasureText const& measure);

/// The text, or as much of its start as fits with "…" behind it.
[[nodiscard]] std::string shorten_text(std::string_view text, double width, Face face, double size,
                                       MeasureText const& measure);

/// The first of several wordings, longest first, that fits; the last one shortened when none does.
[[nodiscard]] std::string first_fitting(std::vector<std::string> const& wordings, double width, Face face,
                                        double size, MeasureText const& measure);

/// A resistance in words of the trade: "470 Ω", "4.7 kΩ", "1.2 MΩ". Three significant digits.
[[nodiscard]] std::string ohm_text(double ohm);

} // namespace isochore::drawing
