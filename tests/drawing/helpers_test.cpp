#include "drawing/axis.h"
#include "drawing/clip.h"
#include "drawing/marks.h"
#include "drawing/placement.h"
#include "drawing/text.h"
#include "label_checks.h"
#include <catch2/catch.hpp>
#include <limits>
#include <set>

using namespace isochore;
using namespace isochore::drawing;
using namespace isochore::tests;

TEST_CASE("an axis has round steps, covers its values and never more ticks than asked for", "[drawing]")
{
    for (auto const& [low, high] : std::vector<std::pair<double, double>>{{0, 1},
                                                                          {-40, 60},
                                                                          {0.31, 0.78},
                                                                          {39.951, 39.996},
                                                                          {1e-9, 3e-9},
                                                                          {0, 1e12},
                                                                          {-7, -3},
                                                                          {98.5, 99.1}})
        for (int most = 2; most <= 12; ++most) {
            CAPTURE(low, high, most);
            Axis const axis = nice_axis(low, high, most, true);
            CHECK(axis.low <= low + 1e-9 * std::abs(low));
            CHECK(axis.high >= high - 1e-9 * std::abs(high));
            // Moving both ends out to ticks may add one at each side.
            CHECK(axis.ticks.size() <= static_cast<std::size_t>(most) + 2);
            CHECK(axis.ticks.size() >= 2);
            double const step = axis.ticks[1] - axis.ticks[0];
            double const digit = step / std::pow(10.0, std::floor(std::log10(step) + 1e-6));
            CHECK((std::abs(digit - 1) < 1e-6 || std::abs(digit - 2) < 1e-6 || std::abs(digit - 5) < 1e-6));
            std::set<std::string> const texts(axis.texts.begin(), axis.texts.end());
            CHECK(texts.size() == axis.texts.size());
        }
}

TEST_CASE("an axis of nothing, of one value or of nonsense is still an axis", "[drawing]")
{
    double const nan = std::numeric_limits<double>::quiet_NaN();
    for (auto const& [low, high] : std::vector<std::pair<double, double>>{
             {5, 5}, {0, 0}, {3, -3}, {nan, 1}, {1, nan}, {-1e300, 1e300}, {1e-300, 2e-300}}) {
        CAPTURE(low, high);
        for (bool const grow : {true, false}) {
            Axis const axis = nice_axis(low, high, 6, grow);
            CHECK(axis.high > axis.low);
            CHECK(std::isfinite(axis.share(axis.low)));
            CHECK(axis.ticks.size() == axis.texts.size());
        }
    }
}

TEST_CASE("zero on an axis is written without a sign", "[drawing]")
{
    Axis const axis = nice_axis(-0.3, 0.3, 7, true);
    for (auto const& text : axis.texts)
        CHECK(text != "-0.0");
}

TEST_CASE("wrapped lines hold every word in order and none is too wide", "[drawing]")
{
    auto const measure = fixed_width(0.5);
    std::string const text = "Open the cart valve slowly. Stop at 4.94 bar g and wait for the reading.";
    for (double width = 12.0; width < 120.0; width += 7.0) {
        std::string joined;
        for (auto const& line : wrap_text(text, width, Face::regular, 3.0, measure)) {
            CHECK(measure(line, Face::regular, 3.0) <= width + 1e-9);
            joined += (joined.empty() ? "" : " ") + line;
        }
        if (width > 25.0)
            CHECK(joined == text);
    }
}

TEST_CASE("a number stays on the line of its unit", "[drawing]")
{
    auto const measure = fixed_width(0.5);
    for (double width = 22.0; width < 60.0; width += 1.0)
        for (auto const& line :
             wrap_text("fill to 4.94 bar and hold 14 min", width, Face::regular, 3.0, measure)) {
            CHECK_FALSE((line.size() >= 4 && line.ends_with("4.94")));
            CHECK_FALSE(line.starts_with("min"));
        }
}

TEST_CASE("a sign stays with its number, a thread's name with its size, and a stop ends a number", "[drawing]")
{
    auto const first = [](std::string_view text) { return std::string(text.substr(0, drawing::end_of_word(text))); };
    CHECK(first("± 0.71 %. Then") == "± 0.71 %.");
    CHECK(first("(± 3.09 %), asked") == "(± 3.09 %),");
    CHECK(first("≥ 8.88 kΩ, noise") == "≥ 8.88 kΩ,");
    CHECK(first("G 1/2 and") == "G 1/2");
    CHECK(first("(NPT 3/8 female") == "(NPT 3/8");
    CHECK(first("5.03 bar g. Wait") == "5.03 bar g.");
    CHECK(first("(0.5 %/yr) is") == "(0.5 %/yr)");
    CHECK(first("5. Then") == "5.");
    CHECK(first("99.9 ± 0.7") == "99.9");
}

TEST_CASE("a word wider than a line is broken between characters, never inside one", "[drawing]")
{
    auto const measure = fixed_width(0.5);
    std::string all;
    for (auto const& line : wrap_text("ΩΩΩΩΩΩΩΩΩΩΩΩ", 4.0, Face::regular, 3.0, measure)) {
        CHECK(line.size() % 2 == 0);
        all += line;
    }
    CHECK(all == "ΩΩΩΩΩΩΩΩΩΩΩΩ");
}

TEST_CASE("broken UTF-8 and empty text do not hang the wrapping", "[drawing]")
{
    auto const measure = fixed_width(0.5);
    CHECK(wrap_text("", 10.0, Face::regular, 3.0, measure) == std::vector<std::string>{""});
    CHECK(wrap_text("a\n\nb", 10.0, Face::regular, 3.0, measure) == std::vector<std::string>{"a", "", "b"});
    CHECK_FALSE(wrap_text("\xff\xfe\xf0\x9f", 0.1, Face::regular, 3.0, measure).empty());
    CHECK(shorten_text("\xf0\x9f", 0.1, Face::regular, 3.0, measure) == "…");
}

TEST_CASE("shortened text fits and says that it was shortened", "[drawing]")
{
    auto const measure = fixed_width(0.5);
    CHECK(shorten_text("resistor", 12.0, Face::regular, 3.0, measure) == "resistor");
    auto const text = shorten_text("resistor", 9.0, Face::regular, 3.0, measure);
    CHECK(text == "resis…");
    CHECK(first_fitting({"minutes since opening", "minutes"}, 12.0, Face::regular, 3.0, measure) ==
          "minutes");
}

TEST_CASE("resistances are written as the trade writes them", "[drawing]")
{
    CHECK(ohm_text(470.0) == "470 Ω");
    CHECK(ohm_text(4700.0) == "4.7 kΩ");
    CHECK(ohm_text(999.9) == "1 kΩ");
    CHECK(ohm_text(18000.0) == "18 kΩ");
    CHECK(ohm_text(1.2e6) == "1.2 MΩ");
    CHECK(ohm_text(std::numeric_limits<double>::quiet_NaN()) == "?");
}

TEST_CASE("a line is cut at the edge of the plot and split where it leaves", "[drawing]")
{
    Box const box{0.0, 0.0, 10.0, 10.0};
    auto const runs = clip_line({{-5, 5}, {5, 5}, {5, 15}, {8, 15}, {8, 5}}, box);
    REQUIRE(runs.size() == 2);
    CHECK(runs[0].front().x == Approx(0.0));
    CHECK(runs[0].back().y == Approx(10.0));
    CHECK(runs[1].front().y == Approx(10.0));
    CHECK(clip_line({{20, 20}, {30, 30}}, box).empty());
    CHECK(clip_line({}, box).empty());
}

TEST_CASE("an area is cut to the plot", "[drawing]")
{
    Box const box{0.0, 0.0, 10.0, 10.0};
    for (auto const p : clip_area({{-5, -5}, {15, -5}, {15, 5}, {-5, 5}}, box)) {
        CHECK(box.grown(1e-9).holds(p));
    }
    CHECK(clip_area({{20, 20}, {30, 20}, {30, 30}}, box).empty());
}

TEST_CASE("a label is put where no other is, and refused where there is no room", "[drawing]")
{
    auto const measure = fixed_width(0.5);
    Placement placement({0, 0, 20, 10}, measure);
    Picture picture;
    placement.take({0, 0, 20, 5});
    CHECK_FALSE(placement.put(picture, {{}, "abc", 3.0}, {{{1.0, 4.0}, Align::left, 0.0}}));
    CHECK(picture.items.empty());
    CHECK(placement.put(picture, {{}, "abc", 3.0},
                        {{{1.0, 4.0}, Align::left, 0.0}, {{1.0, 9.0}, Align::left, 5.0}}));
    CHECK(std::get<Label>(picture.items.back()).at.y == 9.0);
    CHECK_FALSE(placement.put(picture, {{}, "abc", 3.0}, {{{1.0, 9.0}, Align::left, 0.0}}));
}

TEST_CASE("every mark is lines and areas only, has a word and stays in its square", "[drawing]")
{
    for (Mark const mark : {Mark::pass, Mark::recorded, Mark::fail, Mark::undecided, Mark::open, Mark::locked,
                            Mark::deferred, Mark::not_applicable, Mark::overridden}) {
        Picture picture;
        draw_mark(picture, mark, {10, 10}, 5.0);
        CHECK_FALSE(picture.items.empty());
        CHECK(std::string(mark_word(mark)) != "");
        Box const square{7.4, 7.4, 12.6, 12.6};
        for (auto const& item : picture.items) {
            CHECK_FALSE(std::holds_alternative<Label>(item));
            if (auto const* run = std::get_if<Polyline>(&item))
                for (auto const p : run->points)
                    CHECK(square.holds(p));
        }
    }
    Picture none;
    draw_mark(none, Mark::none, {10, 10}, 5.0);
    CHECK(none.items.empty());
}
