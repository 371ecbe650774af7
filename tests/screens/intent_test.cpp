#include "screens/demo_sheets.h"
#include "screens/headless.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>

using namespace isochore;
using screens::Element;
using screens::FrameInput;
using screens::Intent;

namespace {

screens::SheetView sheet(std::string const& name)
{
    for (auto const& s : demo::sheets())
        if (s.name == name)
            return s.make({80, 60});
    FAIL("no sheet " << name);
    return {};
}

drawing::Point middle(Element const& e)
{
    return {e.visible.x + e.visible.w / 2, e.visible.y + e.visible.h / 2};
}

Element element(demo::Headless& headless, std::string const& id)
{
    auto const& all = headless.canvas().elements();
    auto const found = std::find_if(all.begin(), all.end(), [&](Element const& e) { return e.id == id; });
    INFO("element " << id);
    REQUIRE(found != all.end());
    return *found;
}

Intent tap(demo::Headless& headless, screens::SheetView const& view, std::string const& id)
{
    (void)headless.draw(view);
    FrameInput input;
    input.tap = middle(element(headless, id));
    return headless.draw(view, input);
}

Intent hold(demo::Headless& headless, screens::SheetView const& view, std::string const& id)
{
    (void)headless.draw(view);
    FrameInput input;
    input.hold = input.pressed = middle(element(headless, id));
    input.held_s = screens::hold_seconds;
    return headless.draw(view, input);
}

} // namespace

TEST_CASE("a tap on each kind of element gives its intent", "[screens][intent]")
{
    demo::Headless headless;
    headless.resize(demo::formats[GENERATE(0, 1)]);
    struct Case {
        char const *sheet, *id;
        Intent::Kind kind;
        char const *intent_id, *text;
    };
    for (auto const& c :
         {Case{"fill", "action.record", Intent::Kind::action, "record", ""},
          Case{"fill", "action.back", Intent::Kind::action, "back", ""},
          Case{"fill", "field.pressure", Intent::Kind::field, "pressure", ""},
          Case{"fill", "panel.why", Intent::Kind::panel, "why", ""},
          Case{"working", "panel.working", Intent::Kind::panel, "", ""},
          Case{"fill", "stage.tight", Intent::Kind::stage, "tight", ""},
          Case{"confirm", "answer.one", Intent::Kind::answer, "one", ""},
          Case{"jobs", "row.a", Intent::Kind::row, "a", ""},
          Case{"table", "row.q07", Intent::Kind::row, "q07", ""},
          Case{"table", "filter.year", Intent::Kind::filter, "year", ""},
          Case{"filtered", "filter.gas", Intent::Kind::filter, "gas", ""},
          Case{"jobs", "field.search", Intent::Kind::field, "search", ""},
          Case{"form", "field.breaker", Intent::Kind::field, "breaker", ""},
          Case{"keypad", "key.7", Intent::Kind::key, "", "7"},
          Case{"keypad", "key.point", Intent::Kind::key, "", "."},
          Case{"keypad", "key.sign", Intent::Kind::key, "", "sign"},
          Case{"keypad", "key.backspace", Intent::Kind::key, "", "backspace"},
          Case{"keypad", "key.enter", Intent::Kind::key, "", "enter"},
          Case{"keypad", "key.cancel", Intent::Kind::key, "", "cancel"},
          Case{"keypad", "unit.kPa g", Intent::Kind::unit, "", "kPa g"},
          Case{"keyboard", "suggestion.Alder Ferry", Intent::Kind::suggestion, "", "Alder Ferry"},
          Case{"keyboard", "key.space", Intent::Kind::key, "", " "},
          Case{"question", "action.gas", Intent::Kind::action, "gas", ""},
          Case{"progress", "action.cancel", Intent::Kind::action, "cancel", ""},
          Case{"sign", "answer.mm", Intent::Kind::answer, "mm", ""},
          Case{"sign", "field.pin", Intent::Kind::field, "pin", ""}}) {
        INFO(c.sheet << " " << c.id);
        auto const intent = tap(headless, sheet(c.sheet), c.id);
        CHECK(intent.kind == c.kind);
        CHECK(intent.id == c.intent_id);
        CHECK(intent.text == c.text);
    }
}

TEST_CASE("a tap beside everything gives nothing", "[screens][intent]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    FrameInput input;
    input.tap = drawing::Point{1.0, 70.0};
    CHECK(headless.draw(sheet("fill"), input).kind == Intent::Kind::none);
}

TEST_CASE("half the gap around a target belongs to it, and no more", "[screens][intent]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    auto const view = sheet("fill");
    (void)headless.draw(view);
    auto const back = element(headless, "action.back").rect;
    FrameInput input;
    input.tap = drawing::Point{back.right() + 1.4, back.y + 5.0};
    CHECK(headless.draw(view, input).id == "back");
    input.tap = drawing::Point{back.right() + 1.6, back.y + 5.0};
    CHECK(headless.draw(view, input).id == "later");
}

TEST_CASE("what is disabled or locked gives nothing", "[screens][intent]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    CHECK(tap(headless, sheet("confirm"), "action.record").kind == Intent::Kind::none);
    CHECK(tap(headless, sheet("locked"), "field.gauge").kind == Intent::Kind::none);
    CHECK(tap(headless, sheet("pin"), "key.enter").kind == Intent::Kind::none);
    CHECK(tap(headless, sheet("recorded"), "field.pressure").kind == Intent::Kind::none);
    auto view = sheet("fill");
    view.busy = true;
    CHECK(tap(headless, view, "action.record").kind == Intent::Kind::none);
}

TEST_CASE("what cannot be taken back needs a hold", "[screens][intent]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    CHECK(tap(headless, sheet("sign"), "action.seal").kind == Intent::Kind::none);
    CHECK(hold(headless, sheet("sign"), "action.seal").id == "seal");
    CHECK(tap(headless, sheet("recorded"), "action.override").kind == Intent::Kind::none);
    CHECK(hold(headless, sheet("recorded"), "action.override").id == "override");
    // And a hold is not a tap: what takes a tap does not act before the finger lifts.
    CHECK(hold(headless, sheet("fill"), "action.record").kind == Intent::Kind::none);
}

TEST_CASE("an overlay takes all touches", "[screens][intent]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    auto const view = sheet("question");
    (void)headless.draw(view);
    CHECK(element(headless, "stage.mount").covered);
    FrameInput input;
    input.tap = middle(element(headless, "stage.mount"));
    CHECK(headless.draw(view, input).kind == Intent::Kind::none);
}

TEST_CASE("a stroke on the pad comes back in shares of the pad, added to what was there", "[screens][intent]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    auto view = sheet("sign");
    view.sign->strokes = {{{0.1, 0.1}, {0.2, 0.2}}};
    (void)headless.draw(view);
    auto const pad = element(headless, "pad.signature").rect;
    FrameInput input;
    input.drawing_began = true;
    input.drawn = {{pad.x + pad.w / 2, pad.y + pad.h / 4}, {pad.right() + 50.0, pad.y + pad.h / 2}};
    auto const intent = headless.draw(view, input);
    REQUIRE(intent.kind == Intent::Kind::stroke);
    REQUIRE(intent.strokes.size() == 2);
    REQUIRE(intent.strokes[1].size() == 2);
    CHECK(intent.strokes[1][0].x == Approx(0.5).epsilon(0).margin(1e-9));
    CHECK(intent.strokes[1][0].y == Approx(0.25).epsilon(0).margin(1e-9));
    CHECK(intent.strokes[1][1].x == 1.0); // drawn past the edge stays on the pad
    view.sign->strokes = intent.strokes;
    input.drawing_began = false;
    input.drawn = {{pad.x, pad.y}};
    CHECK(headless.draw(view, input).strokes.size() == 2);
}

TEST_CASE("a list is dragged, stops at its ends, and a drag never taps", "[screens][scroll]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    auto const view = sheet("jump");
    (void)headless.draw(view);
    double const before = element(headless, "row.1").rect.y;
    FrameInput input;
    input.pan = FrameInput::Pan{middle(element(headless, "row.2")), 0.0, -30.0};
    auto const intent = headless.draw(view, input);
    CHECK(intent.kind == Intent::Kind::none);
    CHECK(headless.canvas().pan_moved());
    (void)headless.draw(view);
    CHECK(element(headless, "row.1").rect.y == Approx(before - 30.0).epsilon(0).margin(1e-6));
    input.pan->dy = 5000.0;
    (void)headless.draw(view, input);
    (void)headless.draw(view);
    CHECK(element(headless, "row.1").rect.y == Approx(before).epsilon(0).margin(1e-6));
    (void)headless.draw(view, input);
    CHECK_FALSE(headless.canvas().pan_moved());
}

TEST_CASE("the keyboard gives capitals at the start of a word, and Shift turns that round",
          "[screens][keyboard]")
{
    demo::Headless headless;
    headless.resize(demo::formats[GENERATE(0, 1)]);
    auto view = sheet("keyboard");
    view.entry->typed.clear();
    CHECK(tap(headless, view, "key.Q").text == "Q");
    view.entry->typed.push_back('Q');
    CHECK(tap(headless, view, "key.u").text == "u");
    (void)tap(headless, view, "key.shift");
    CHECK(tap(headless, view, "key.U").text == "U");
    CHECK(tap(headless, view, "key.u").text == "u"); // once only
    (void)tap(headless, view, "key.page");
    CHECK(tap(headless, view, "key.ö").text == "ö");
    CHECK(tap(headless, view, "key.backspace").text == "backspace");
}

TEST_CASE("a PIN is never drawn", "[screens][keyboard]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    (void)headless.draw(sheet("pin"));
    for (auto const& e : headless.canvas().elements())
        CHECK(e.text.find("1234") == std::string::npos);
}

TEST_CASE("an empty sheet draws and takes taps without harm", "[screens][robust]")
{
    demo::Headless headless;
    headless.resize(demo::formats[GENERATE(0, 1)]);
    FrameInput input;
    input.tap = drawing::Point{50.0, 50.0};
    screens::SheetView view;
    CHECK(headless.draw(view, input).kind == Intent::Kind::none);
    view.step.emplace();
    view.step->picture.emplace();
    CHECK(headless.draw(view, input).kind == Intent::Kind::none);
    view = {};
    view.list.emplace();
    view.sign.emplace();
    view.entry.emplace();
    CHECK(headless.draw(view).kind == Intent::Kind::none);
}

TEST_CASE("no picture pushes the field of a value out of sight", "[screens][layout]")
{
    demo::Headless headless;
    for (auto const& format : demo::formats) {
        headless.resize(format);
        for (int const cautions : {0, 1, 2}) {
            auto view = sheet("fill");
            auto& step = *view.step;
            step.fields.resize(1);
            step.results.clear();
            std::string const words =
                "An open secondary under load reaches thousands of volts. Short it first; a "
                "clip-on coil needs no opening. Local codes come first.";
            step.cautions.assign(static_cast<std::size_t>(cautions), {"Never open it", words});
            step.verdict = screens::VerdictView{screens::Mark::pass, "As it must be", words, ""};
            (void)headless.draw({}); // comes from another sheet
            (void)headless.draw(view);
            INFO(format.name << ", cautions: " << cautions);
            bool seen = false;
            for (auto const& e : headless.canvas().elements())
                if (e.kind == screens::ElementKind::field) {
                    seen = true;
                    CHECK(e.visible.h == Approx(e.rect.h).epsilon(0).margin(0.01));
                }
            CHECK(seen);
        }
    }
}

TEST_CASE("a picture that finds no room on an upright sheet is drawn all the same and stands behind its tab",
          "[screens][layout]")
{
    demo::Headless headless;
    for (auto const& format : demo::formats) {
        if (format.width_px > format.height_px)
            continue;
        headless.resize(format);
        auto view = sheet("fill");
        auto& step = *view.step;
        step.picture.reset();
        step.fields.resize(1);
        std::string const words = "An open secondary under load reaches thousands of volts. Short it first; "
                                  "a clip-on coil needs no "
                                  "opening. Local codes come first.";
        step.cautions.assign(4, {"Never open it", words});
        step.verdict = screens::VerdictView{screens::Mark::pass, "As it must be", words, ""};
        INFO(format.name);
        // As the window does it: first the room is asked for, then the picture made for it, or none if too
        // small.
        auto const space = headless.picture_space(view);
        REQUIRE(space.width_mm >= 40.0);
        REQUIRE(space.height_mm >= 30.0);
        step.picture.emplace();
        step.picture->width = space.width_mm;
        step.picture->height = space.height_mm;
        (void)headless.draw({}); // comes from another sheet
        auto const intent = tap(headless, view, "panel.picture");
        CHECK(intent.kind == Intent::Kind::panel);
        CHECK(intent.id == "picture");
    }
}

TEST_CASE("every unit is on the keypad, and none moves with what is said of the value", "[screens][layout]")
{
    demo::Headless headless;
    auto const places = [&](screens::SheetView const& view) {
        (void)headless.draw({}); // comes from another sheet
        (void)headless.draw(view);
        std::map<std::string, screens::Rect> found;
        for (auto const& e : headless.canvas().elements())
            if (e.id.starts_with("unit.") && !e.id.ends_with(".label"))
                found[e.id] = e.rect;
        return found;
    };
    for (auto const& format : demo::formats) {
        headless.resize(format);
        auto view = sheet("keypad-problem");
        auto const with_problem = places(view);
        INFO(format.name);
        CHECK(with_problem.size() == view.entry->units.size());
        view.entry->problem.clear();
        view.entry->echo.clear();
        auto const quiet = places(view);
        REQUIRE(quiet.size() == with_problem.size());
        for (auto const& [id, rect] : with_problem) {
            CHECK(quiet.at(id).x == Approx(rect.x));
            CHECK(quiet.at(id).y == Approx(rect.y));
        }
    }
}

TEST_CASE("an answer does not move the answers, though a verdict comes with it", "[screens][layout]")
{
    demo::Headless headless;
    for (auto const& format : demo::formats) {
        headless.resize(format);
        for (char const* name : {"confirm", "fill", "form"}) {
            auto view = sheet(name);
            if (view.step)
                view.step->verdict.reset();
            (void)headless.draw({}); // comes from another sheet
            (void)headless.draw(view);
            std::vector<Element> before;
            for (auto const& e : headless.canvas().elements())
                if (e.kind == screens::ElementKind::answer || e.kind == screens::ElementKind::field)
                    before.push_back(e);
            REQUIRE_FALSE(before.empty());
            if (view.step)
                view.step->verdict = screens::VerdictView{screens::Mark::pass, "As it must be", "", ""};
            (void)headless.draw(view);
            for (auto const& was : before) {
                INFO(format.name << " " << name << " " << was.id);
                auto const now = element(headless, was.id).rect;
                CHECK(now.x == Approx(was.rect.x).epsilon(0).margin(0.01));
                CHECK(now.y == Approx(was.rect.y).epsilon(0).margin(6.0)); // gaps may tighten, no more
            }
        }
    }
}
