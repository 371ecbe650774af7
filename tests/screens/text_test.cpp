#include "screens/headless.h"
#include "screens/polygon.h"
#include <catch2/catch.hpp>
#include <cmath>

using namespace isochore;
using screens::TextStyle;

TEST_CASE("wrapped text loses no word and stays inside its width", "[screens][text]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    auto& canvas = headless.canvas();
    std::string const text = "Druckbehälterüberwachungsverordnung bei 20 °C und 0.62 MPa abs, danach weiter";
    for (double const width : {20.0, 35.0, 60.0, 200.0}) {
        auto const& lines = canvas.wrap(text, TextStyle{}, width);
        std::string joined;
        for (auto const& line : lines) {
            CHECK(canvas.measure(line, TextStyle{}) <= width + 0.01);
            bool const broken = line.back() == '-' && &line != &lines.back();
            joined += broken ? line.substr(0, line.size() - 1) : line + " ";
        }
        joined.pop_back();
        CHECK(joined == text);
    }
}

TEST_CASE("a number keeps its unit on its line", "[screens][text]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    auto& canvas = headless.canvas();
    for (double width = 22.0; width < 60.0; width += 0.5)
        for (auto const& line :
             canvas.wrap("target rises to 5.09 bar g. then wait about 14 min", TextStyle{}, width)) {
            INFO(width << ": " << line);
            CHECK(line.substr(line.size() - std::min<std::size_t>(4, line.size())) != "5.09");
            CHECK(line.rfind("bar", 0) != 0);
            CHECK(line.rfind("g.", 0) != 0);
            CHECK(line.rfind("min", 0) != 0);
        }
}

TEST_CASE("a day or a serial number is broken at its own hyphen, without a second one", "[screens][text]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    (void)headless.draw({});
    auto& canvas = headless.canvas();
    TextStyle const style{};
    double const width = canvas.measure("2026-03", style) + 0.5;
    auto const lines = canvas.wrap("2026-03-02", style, width);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0] == "2026-");
    CHECK(lines[1] == "03-02");
    // Without a hyphen of its own it gets one.
    auto const plain = canvas.wrap("Lichtbogenl", style, canvas.measure("Lichtbogen", style));
    REQUIRE(plain.size() == 2);
    CHECK(plain[0].back() == '-');
}

TEST_CASE("line breaks in a text are kept", "[screens][text]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    CHECK(headless.canvas().wrap("a\nb", TextStyle{}, 50.0) == std::vector<std::string>{"a", "b"});
    CHECK(headless.canvas().wrap("", TextStyle{}, 50.0) == std::vector<std::string>{""});
}

TEST_CASE("an em of the type is drawn as high as it says", "[screens][text]")
{
    // B612's capitals are 0.75 em (its OS/2 table, sCapHeight 1500 of 2000): the caps of a 4 mm type at 300
    // dots an inch are 35.4 pixels high.
    demo::Headless headless;
    headless.resize({"", 2560, 1600, 300.0});
    auto const picked = headless.fonts().pick(drawing::Face::bold, screens::size::digits);
    auto const* glyph = picked.font->FindGlyph('H');
    double const expected = screens::size::cap_height * picked.size_mm * 300.0 / 25.4;
    CHECK(static_cast<double>(glyph->Y1 - glyph->Y0) ==
          Approx(expected).epsilon(0).margin(2.5)); // the box has soft edges
}

TEST_CASE("a text is never drawn larger than it was measured, and hardly smaller", "[screens][text]")
{
    demo::Headless headless;
    headless.resize(demo::formats[1]);
    for (double size = 2.6; size < 6.0; size += 0.07)
        for (auto const face : {drawing::Face::regular, drawing::Face::bold}) {
            (void)headless.fonts().pick(face, size); // notes the size where none is near
            (void)headless.draw({});
            auto const drawn = headless.fonts().pick(face, size).size_mm;
            CAPTURE(size);
            CHECK(drawn <= 1.025 * size);
            CHECK(drawn >= 0.88 * size);
        }
}

TEST_CASE("a polygon, convex or not, is cut into triangles of the same area", "[screens][polygon]")
{
    auto const area = [](auto const& p) {
        double sum = 0.0;
        for (std::size_t i = 0; i < p.size(); ++i)
            sum += p[i].x * p[(i + 1) % p.size()].y - p[(i + 1) % p.size()].x * p[i].y;
        return std::abs(sum) / 2;
    };
    std::vector<drawing::Point> const star{{0, -5}, {1, -1}, {5, 0},  {1, 1},
                                           {0, 5},  {-1, 1}, {-5, 0}, {-1, -1}};
    std::vector<drawing::Point> const notch{{0, 0}, {10, 0}, {10, 10}, {5, 2}, {0, 10}};
    std::vector<drawing::Point> const line{{0, 0}, {5, 0}, {10, 0}, {10, 5}, {0, 5}};
    for (auto points : {star, notch, line})
        for (bool const turned : {false, true}) {
            if (turned)
                std::reverse(points.begin(), points.end());
            double sum = 0.0;
            for (auto const& t : screens::triangles(points))
                sum += area(t);
            CHECK(sum == Approx(area(points)).epsilon(1e-12));
        }
    CHECK(screens::triangles({}).empty());
    CHECK(screens::triangles({{0, 0}, {1, 1}}).empty());
}
