#include "screens/demo_sheets.h"
#include "screens/headless.h"
#include "screens/sheet_rules.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

/// Walks the elements of every demonstration sheet at every size, in plain English and in words as long as
/// German makes them, and holds them against the rules for gloves and eyes.
namespace {

using namespace isochore;
using demo::Format;
using screens::Element;
using screens::ElementKind;

struct Seen {
    std::string name; ///< sheet, size, language
    double width = 0.0, height = 0.0;
    std::vector<Element> elements;
};

std::vector<Seen> const& everything()
{
    static std::vector<Seen> const all = [] {
        std::vector<Seen> seen;
        demo::Headless headless;
        for (auto const& format : demo::formats) {
            headless.resize(format);
            for (auto const& sheet : demo::sheets())
                for (bool const lengthened : {false, true}) {
                    auto const make = [&](screens::PictureSpace space) {
                        return lengthened ? demo::lengthened(sheet.make(space)) : sheet.make(space);
                    };
                    auto const view = make(headless.picture_space(make({80, 60})));
                    (void)headless.draw(view);
                    seen.push_back({sheet.name + " " + format.name + (lengthened ? " lengthened" : ""),
                                    headless.width(), headless.height(), headless.canvas().elements()});
                }
        }
        return seen;
    }();
    return all;
}

// Faults gathered over all sheets, so that one run shows them all.
void report(std::vector<std::string> const& faults)
{
    std::ostringstream out;
    for (std::size_t i = 0; i < std::min<std::size_t>(faults.size(), 40); ++i)
        out << "\n  " << faults[i];
    INFO(faults.size() << " faults" << out.str());
    CHECK(faults.empty());
}

void holds(screens::Faults (*rule)(screens::DrawnSheet const&))
{
    std::vector<std::string> faults;
    REQUIRE(everything().size() == demo::sheets().size() * std::size(demo::formats) * 2);
    for (auto const& seen : everything())
        for (auto const& fault : rule({seen.width, seen.height, seen.elements}))
            faults.push_back(seen.name + ": " + fault);
    report(faults);
}

/// A sheet of one text and one target that break nothing, for a rule to be broken on purpose.
std::vector<Element> sound()
{
    Element text, target;
    text.id = "words";
    text.text = "Words";
    text.rect = text.visible = {20, 20, 30, 5};
    text.text_size = screens::size::body;
    target.id = "act";
    target.kind = ElementKind::action;
    target.rect = target.visible = {20, 40, 25, 20};
    return {text, target};
}

screens::Faults faults_of(std::vector<Element> const& elements)
{
    return screens::sheet_faults({200.0, 120.0, elements});
}

} // namespace

TEST_CASE("no text is cut on any sheet, at any size, in any language", "[screens][layout]")
{
    holds(screens::cut_texts);
}

TEST_CASE("what one touches is at least 15 mm each way, acts and number keys 20 mm", "[screens][layout]")
{
    holds(screens::small_targets);
}

TEST_CASE("targets keep 3 mm between them, and 6 mm from an act that cannot be taken back",
          "[screens][layout]")
{
    holds(screens::close_targets);
}

TEST_CASE("targets stay clear of the bezel", "[screens][layout]")
{
    holds(screens::bezel_targets);
}

TEST_CASE("no text lies on another", "[screens][layout]")
{
    holds(screens::stacked_texts);
}

TEST_CASE("text stands either inside a target or outside it, never across its edge", "[screens][layout]")
{
    holds(screens::straddling_texts);
}

TEST_CASE("text stays on the sheet and inside its column", "[screens][layout]")
{
    holds(screens::escaped_texts);
}

TEST_CASE("type is never smaller than 16 minutes of arc at 500 mm, body text never under 20",
          "[screens][layout]")
{
    // ISO 9241-3: 16 minutes at least, 20 to 22 preferred. 500 mm: a tablet in the hand.
    auto const minutes = [](double em_mm) {
        double const capital = em_mm * screens::size::cap_height;
        return 2.0 * std::atan(capital / 2.0 / 500.0) * 180.0 / std::acos(-1.0) * 60.0;
    };
    CHECK(minutes(screens::size::body) >= 20.0);
    CHECK(minutes(screens::size::caption) >= 16.0);
    holds(screens::small_texts);
}

TEST_CASE("every text is drawn on a pair of inks whose contrast is tested", "[screens][layout]")
{
    holds(screens::untested_inks);
}

TEST_CASE("each rule of the sheet notices what breaks it", "[screens][layout]")
{
    CHECK(faults_of(sound()).empty());
    auto const broken = [](char const* what, auto&& harm) {
        auto elements = sound();
        harm(elements);
        auto const faults = faults_of(elements);
        INFO(what);
        REQUIRE(faults.size() == 1);
        CHECK_THAT(faults.front(), Catch::Contains(what));
    };
    broken("text cut", [](auto& e) { e[0].cut = true; });
    broken("target too small", [](auto& e) { e[1].rect.w = e[1].visible.w = 19.0; });
    broken("2.00 mm between", [](auto& e) {
        e.push_back(e[1]);
        e[2].rect.x = e[2].visible.x = 47.0;
    });
    broken("5.00 mm between", [](auto& e) {
        e.push_back(e[1]);
        e[2].rect.x = e[2].visible.x = 50.0;
        e[2].hold = true;
    });
    broken("near the bezel", [](auto& e) { e[1].rect.x = e[1].visible.x = 2.0; });
    broken("text on text", [](auto& e) {
        e.push_back(e[0]);
        e[2].rect.x = e[2].visible.x = 45.0;
    });
    broken("across a target's edge", [](auto& e) { e[0].rect.y = e[0].visible.y = 38.0; });
    broken("off the sheet", [](auto& e) { e[0].rect.x = e[0].visible.x = 190.0; });
    broken("clipped sideways", [](auto& e) { e[0].visible.w = 20.0; });
    broken("text too small", [](auto& e) { e[0].text_size = screens::size::caption - 0.2; });
    broken("ink", [](auto& e) {
        e[0].ink = screens::Ink::paper;
        e[0].ground = screens::Ink::paper;
    });
}

TEST_CASE("cautions are in sight when a step opens", "[screens][layout]")
{
    int cautions = 0;
    for (auto const& seen : everything()) {
        if (seen.name.find("lengthened") != std::string::npos)
            continue;
        for (auto const& e : seen.elements)
            if (e.id.rfind("caution.", 0) == 0) {
                INFO(seen.name << " " << e.id << " '" << e.text << "'");
                CHECK(e.visible.h > 0.5 * e.rect.h);
                ++cautions;
            }
    }
    CHECK(cautions > 20);
}
