#include "../drawing/label_checks.h"
#include "../drawing/sample_pictures.h"
#include "report/cairo_painter.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace isochore;
using namespace isochore::drawing;
using namespace isochore::report;
using namespace isochore::tests;

namespace {

/// Contrast ratio of WCAG 2.1, from relative luminance of sRGB.
double contrast(Colour a, Colour b)
{
    auto const linear = [](double c) {
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    auto const luminance = [&](Colour c) {
        return 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
    };
    double const la = luminance(a), lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

Colour of(Ink ink)
{
    return paper_palette()[static_cast<std::size_t>(ink)];
}

} // namespace

TEST_CASE("every role that carries text on paper has a contrast of at least 7 to 1", "[report]")
{
    for (Ink const back : {Ink::paper, Ink::panel, Ink::accent_soft})
        for (Ink const ink :
             {Ink::text, Ink::muted, Ink::accent, Ink::pass, Ink::fail, Ink::undecided, Ink::line}) {
            CAPTURE(static_cast<int>(back), static_cast<int>(ink));
            // Status colours are never drawn on an accent fill; muted and accent are.
            if (back == Ink::accent_soft && (ink == Ink::pass || ink == Ink::fail || ink == Ink::undecided))
                continue;
            CHECK(contrast(of(back), of(ink)) >= (back == Ink::accent_soft ? 6.5 : 7.0));
        }
    CHECK(contrast(of(Ink::text), of(Ink::paper)) >= 15.0);
    CHECK(contrast(of(Ink::inverse), of(Ink::line)) >= 15.0);
}

TEST_CASE("the real fonts keep every picture's labels apart too", "[report]")
{
    Type type;
    auto const measure = type.measure();
    for (auto const& sample : sample_pictures())
        for (Space const space : {Space{60, 50}, {75, 60}, {75, 120}, {100, 80}, {140, 90}, {180, 120}}) {
            INFO(sample.name << " " << space.width_mm << " x " << space.height_mm);
            CHECK(label_faults(sample.draw(space, measure), measure) == "");
        }
}

TEST_CASE("a text is as wide at every size, in proportion", "[report]")
{
    Type type;
    double const one = type.width("now 37.6 ± 0.3 kg/m³", Face::bold, 1.0);
    CHECK(type.width("now 37.6 ± 0.3 kg/m³", Face::bold, 3.0) == Approx(3.0 * one).epsilon(0).margin(1e-9));
    CHECK(one > 8.0);
    CHECK(type.width("", Face::regular, 3.0) == 0.0);
    CHECK(type.width("ii", Face::mono, 3.0) ==
          Approx(type.width("WW", Face::mono, 3.0)).epsilon(0).margin(1e-3));
}

TEST_CASE("a picture becomes a PNG of its size; what cannot be drawn is left out", "[report]")
{
    Type type;
    Picture picture;
    picture.width = 20;
    picture.height = 10;
    double const nan = std::numeric_limits<double>::quiet_NaN();
    picture.line({nan, 0}, {1, 1}, Ink::line, 0.3);
    picture.circle({0, nan}, 1.0, Ink::line, 0.3);
    picture.label({nan, nan}, "text", 3.0, Ink::text);
    picture.label({1, 1}, "\xff\xfe", 3.0, Ink::text);
    auto const bytes = picture_png(picture, paper_palette(), 4.0, type);
    REQUIRE(bytes.size() > 24);
    CHECK(bytes.substr(1, 3) == "PNG");
    // IHDR: width and height as big-endian numbers.
    CHECK(static_cast<unsigned char>(bytes[19]) == 80);
    CHECK(static_cast<unsigned char>(bytes[23]) == 40);
    picture.width = nan;
    CHECK(picture_png(picture, paper_palette(), 4.0, type).empty());
    picture.width = 1e9;
    CHECK(picture_png(picture, paper_palette(), 4.0, type).empty());
}

TEST_CASE("text that is not UTF-8 is mended", "[report]")
{
    CHECK(printable("plain ± Ω") == "plain ± Ω");
    CHECK(printable(std::string("a\0b", 3)) == "ab");
    CHECK(printable("\xff") == "\xef\xbf\xbd");
}
