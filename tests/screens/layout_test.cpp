#include "screens/demo_sheets.h"
#include "screens/headless.h"
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
using screens::Rect;

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

std::string show(Rect const& r)
{
    std::ostringstream out;
    out << "[" << r.x << " " << r.y << " " << r.w << "x" << r.h << "]";
    return out.str();
}

std::string show(Element const& e)
{
    return e.id + " '" + e.text + "' " + show(e.visible);
}

bool in_sight(Element const& e)
{
    return e.visible.w > 0.05 && e.visible.h > 0.05 && !e.covered;
}

bool whole(Element const& e)
{
    return std::abs(e.visible.w - e.rect.w) < 0.05 && std::abs(e.visible.h - e.rect.h) < 0.05;
}

double distance(Rect const& a, Rect const& b)
{
    double const dx = std::max({0.0, a.x - b.right(), b.x - a.right()}),
                 dy = std::max({0.0, a.y - b.bottom(), b.y - a.bottom()});
    return std::hypot(dx, dy);
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

template <class Check> void each(Check&& check)
{
    std::vector<std::string> faults;
    REQUIRE(everything().size() == demo::sheets().size() * std::size(demo::formats) * 2);
    for (auto const& seen : everything())
        for (auto const& element : seen.elements)
            if (std::string const fault = check(seen, element); !fault.empty())
                faults.push_back(seen.name + ": " + fault);
    report(faults);
}

} // namespace

TEST_CASE("no text is cut on any sheet, at any size, in any language", "[screens][layout]")
{
    each([](Seen const&, Element const& e) { return e.cut ? "cut: " + show(e) : std::string(); });
}

TEST_CASE("what one touches is at least 15 mm each way, acts and number keys 20 mm", "[screens][layout]")
{
    each([](Seen const&, Element const& e) -> std::string {
        if (!e.touchable())
            return {};
        bool const number_key = e.kind == ElementKind::key && e.id.size() == 5 && e.id[4] >= '0' &&
                                e.id[4] <= '9' && e.rect.h > 16.0;
        double const least =
            e.kind == ElementKind::action || number_key ? screens::size::action : screens::size::target_min;
        return e.rect.w < least - 0.02 || e.rect.h < least - 0.02 ? "too small: " + show(e) : std::string();
    });
}

TEST_CASE("targets keep 3 mm between them, and 6 mm from an act that cannot be taken back",
          "[screens][layout]")
{
    std::vector<std::string> faults;
    for (auto const& seen : everything())
        for (std::size_t i = 0; i < seen.elements.size(); ++i)
            for (std::size_t k = i + 1; k < seen.elements.size(); ++k) {
                auto const &a = seen.elements[i], &b = seen.elements[k];
                if (!a.touchable() || !b.touchable() || !in_sight(a) || !in_sight(b))
                    continue;
                // Inside one scroll region the laid-out places count; across its edge, what is seen.
                bool const same = a.scrolls && b.scrolls && show(a.clip) == show(b.clip);
                double const gap = same ? distance(a.rect, b.rect) : distance(a.visible, b.visible);
                bool const edge = !same && (!whole(a) || !whole(b)); // dragged half out of sight
                double const least = a.hold || b.hold ? screens::size::gap_guarded
                                     : edge           ? 0.9
                                                      : screens::size::gap;
                if (gap < least - 0.05)
                    faults.push_back(seen.name + ": " + std::to_string(gap) + " mm between " + show(a) +
                                     " and " + show(b));
            }
    report(faults);
}

TEST_CASE("targets stay clear of the bezel", "[screens][layout]")
{
    each([](Seen const& seen, Element const& e) -> std::string {
        if (!e.touchable() || e.kind == ElementKind::stage || !in_sight(e))
            return {};
        Rect const safe = Rect{0, 0, seen.width, seen.height}.inset(4.5);
        Rect const inside = e.visible.cut(safe);
        return std::abs(inside.w * inside.h - e.visible.w * e.visible.h) > 0.5 ? "near the bezel: " + show(e)
                                                                               : std::string();
    });
}

TEST_CASE("no text lies on another", "[screens][layout]")
{
    std::vector<std::string> faults;
    for (auto const& seen : everything()) {
        std::vector<Element const*> texts;
        for (auto const& e : seen.elements)
            if (e.kind == ElementKind::text && in_sight(e) && e.id != "picture.label")
                texts.push_back(&e);
        for (std::size_t i = 0; i < texts.size(); ++i)
            for (std::size_t k = i + 1; k < texts.size(); ++k)
                if (texts[i]->visible.overlaps(texts[k]->visible, 0.35))
                    faults.push_back(seen.name + ": " + show(*texts[i]) + " on " + show(*texts[k]));
    }
    report(faults);
}

TEST_CASE("text stands either inside a target or outside it, never across its edge", "[screens][layout]")
{
    std::vector<std::string> faults;
    for (auto const& seen : everything())
        for (auto const& text : seen.elements)
            for (auto const& target : seen.elements) {
                if (text.kind != ElementKind::text || text.id == "picture.label" || !target.touchable() ||
                    target.kind == ElementKind::stage)
                    continue;
                if (!in_sight(text) || !in_sight(target) || text.layer != target.layer)
                    continue;
                Rect const common = text.visible.cut(target.visible);
                bool const apart = common.w < 0.3 || common.h < 0.3;
                bool const inside = common.w > text.visible.w - 0.3 && common.h > text.visible.h - 0.3;
                if (!apart && !inside)
                    faults.push_back(seen.name + ": " + show(text) + " across " + show(target));
            }
    report(faults);
}

TEST_CASE("text stays on the sheet and inside its column", "[screens][layout]")
{
    each([](Seen const& seen, Element const& e) -> std::string {
        if (e.kind != ElementKind::text || !in_sight(e))
            return {};
        Rect const sheet = Rect{0, 0, seen.width, seen.height}.inset(screens::size::frame);
        if (e.rect.x < sheet.x || e.rect.right() > sheet.right() + 0.01)
            return e.scrolls && e.id.rfind("stage.", 0) == 0 ? std::string() : "off the sheet: " + show(e);
        // Sideways nothing scrolls but the line, so nothing may be clipped sideways.
        bool const clipped = e.visible.w < e.rect.w - 0.3;
        return clipped && e.id.rfind("stage.", 0) != 0 && e.id != "entry.typed"
                   ? "clipped sideways: " + show(e)
                   : std::string();
    });
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
    each([&](Seen const&, Element const& e) -> std::string {
        if (e.kind != ElementKind::text || e.id == "picture.label")
            return {};
        bool const caption =
            e.id.find(".label") != std::string::npos || e.id.find(".name") != std::string::npos ||
            e.id.find(".flag") != std::string::npos || e.id.find(".small") != std::string::npos ||
            e.id.rfind("block.", 0) == 0 || e.id == "step.stamp" || e.id == "pad.label";
        double const least = caption ? screens::size::caption : screens::size::body;
        return e.text_size < least - 0.001 ? "too small: " + show(e) : std::string();
    });
}

TEST_CASE("every text is drawn on a pair of inks whose contrast is tested", "[screens][layout]")
{
    each([](Seen const&, Element const& e) -> std::string {
        if (e.kind != ElementKind::text || e.id == "picture.label")
            return {};
        auto const& pairs = screens::text_pairs();
        bool const known = std::any_of(pairs.begin(), pairs.end(), [&](auto const& p) {
            return p.text == e.ink && p.background == e.ground;
        });
        return known ? std::string()
                     : "ink " + std::to_string(static_cast<int>(e.ink)) + " on " +
                           std::to_string(static_cast<int>(e.ground)) + ": " + show(e);
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
                INFO(seen.name << " " << show(e));
                CHECK(e.visible.h > 0.5 * e.rect.h);
                ++cautions;
            }
    }
    CHECK(cautions > 20);
}
