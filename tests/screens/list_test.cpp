#include "screens/headless.h"
#include "screens/parts.h"
#include <algorithm>
#include <catch2/catch.hpp>

/// A list measures its rows once and keeps what it measured; nobody may see a difference.
namespace {

using namespace isochore;
using screens::Element;
using screens::ElementKind;
using screens::FrameInput;

screens::SheetView list_of(int rows, bool grouped = false)
{
    screens::SheetView view;
    view.list.emplace();
    view.list->heading = "Outages";
    for (int i = 0; i < rows; ++i) {
        screens::ListRow row;
        row.id = std::to_string(i);
        row.title = "AF-Q07-" + row.id;
        // Every seventh runs over several lines.
        for (int word = 0; word < (i % 7 == 3 ? 60 : 3); ++word)
            row.detail += (word == 0 ? "" : " ") + std::string("number ") + row.id;
        row.side = i % 5 == 0 ? "sealed and archived" : "open";
        row.mark = screens::Mark::pass;
        if (grouped)
            row.group = "Group " + std::to_string(i / 8);
        view.list->rows.push_back(row);
    }
    return view;
}

FrameInput dragged(demo::Headless const& headless, double down)
{
    FrameInput input;
    input.pan = FrameInput::Pan{{headless.width() / 2, headless.height() / 2}, 0.0, -down};
    return input;
}

std::vector<Element> rows_of(demo::Headless& headless)
{
    std::vector<Element> rows;
    for (auto const& e : headless.canvas().elements())
        if (e.kind == ElementKind::row)
            rows.push_back(e);
    return rows;
}

std::string said(screens::Rect const& r)
{
    return std::to_string(r.x) + " " + std::to_string(r.y) + " " + std::to_string(r.w) + " " +
           std::to_string(r.h);
}

/// Everything on the sheet with its place, as one comparable list.
std::vector<std::string> all_of(demo::Headless& headless)
{
    std::vector<std::string> all;
    for (auto const& e : headless.canvas().elements())
        all.push_back(e.id + " '" + e.text + "' " + said(e.rect) + " seen " + said(e.visible));
    return all;
}

/// Where two sheets first differ; empty when they do not.
std::string difference(std::vector<std::string> const& a, std::vector<std::string> const& b)
{
    for (std::size_t i = 0; i < std::max(a.size(), b.size()); ++i) {
        std::string const left = i < a.size() ? a[i] : "(nothing)", right = i < b.size() ? b[i] : "(nothing)";
        if (left != right)
            return left + " / " + right;
    }
    return {};
}

std::vector<std::string> drawn_anew(screens::SheetView const& view, demo::Format const& format, double down)
{
    demo::Headless headless;
    headless.resize(format);
    (void)headless.draw(view);
    (void)headless.draw(view, dragged(headless, down));
    return all_of(headless);
}

} // namespace

TEST_CASE("every row of a long list has its place, by its own text, and the list scrolls to the last one",
          "[screens][list]")
{
    demo::Headless headless;
    headless.resize(demo::formats[GENERATE(0, 1)]);
    auto const view = list_of(500);
    (void)headless.draw(view);
    auto const rows = rows_of(headless);
    REQUIRE(rows.size() == 500);
    auto& canvas = headless.canvas();
    // Sign on the left; the longest word of state, and the air beside it and at the edge, on the right.
    double const side = canvas.measure("sealed and archived", screens::style::body);
    double const text_w = rows[0].rect.w - 9.0 - (side + 4.0) - 4.0;
    double y = rows[0].rect.y;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        auto const& row = view.list->rows[i];
        CAPTURE(i);
        CHECK(rows[i].id == "row." + row.id);
        CHECK(rows[i].rect.y == Approx(y));
        double const words = canvas.paragraph_height(row.title, screens::style::strong, text_w) +
                             canvas.paragraph_height(row.detail, screens::style::body, text_w);
        CHECK(rows[i].rect.h == Approx(std::max(screens::size::target_min, words + 3.0)));
        y += rows[i].rect.h + screens::size::gap;
    }
    CHECK(rows[3].rect.h > rows[2].rect.h + 5.0);
    (void)headless.draw(view, dragged(headless, 1e6));
    auto const last = rows_of(headless).back();
    CHECK(last.visible.h == Approx(last.rect.h));
    CHECK(last.rect.bottom() + screens::size::gap == Approx(last.clip.bottom()));
}

TEST_CASE("a list whose measures are kept looks as one measured anew, wherever it is scrolled",
          "[screens][list]")
{
    auto const format = demo::formats[GENERATE(0, 1, 2)];
    bool const grouped = GENERATE(false, true);
    auto const view = list_of(GENERATE(5, 12, 300), grouped);
    auto changed = view;
    SECTION("one row says more than before")
    {
        changed.list->rows[1].detail = view.list->rows[3].detail;
    }
    SECTION("a row has gone")
    {
        changed.list->rows.erase(changed.list->rows.begin() + 1);
    }
    SECTION("the words on the right are longer")
    {
        changed.list->rows[2].side = "put off until the next outage of this bay";
    }
    SECTION("no row has a mark any more")
    {
        for (auto& row : changed.list->rows)
            row.mark = screens::Mark::none;
    }
    std::vector<std::string> kept, after;
    { // only one set of type at a time
        demo::Headless headless;
        headless.resize(format);
        for (int frame = 0; frame < 3; ++frame)
            (void)headless.draw(view);
        (void)headless.draw(view, dragged(headless, 120.0));
        kept = all_of(headless);
        // Back to the top first: where a list that grew shorter stands is not asked here.
        (void)headless.draw(changed, dragged(headless, -1e6));
        (void)headless.draw(changed, dragged(headless, 120.0));
        after = all_of(headless);
    }
    CHECK(difference(kept, drawn_anew(view, format, 120.0)) == "");
    CHECK(difference(after, drawn_anew(changed, format, 120.0)) == "");
}

TEST_CASE("what was measured is kept while each frame asks for it, and measured again with other type",
          "[screens][list]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    (void)headless.draw({});
    auto& canvas = headless.canvas();
    int made = 0;
    auto const ask = [&](std::size_t key) {
        return canvas.measured(key, [&] {
            ++made;
            return std::vector<double>{static_cast<double>(key)};
        })[0];
    };
    CHECK(ask(7) == 7.0);
    CHECK(ask(7) == 7.0);
    CHECK(made == 1);
    CHECK(ask(8) == 8.0);
    CHECK(made == 2);
    headless.resize(demo::formats[2]); // sets the type anew
    (void)ask(7);
    CHECK(made == 3);
    (void)headless.draw({}); // this frame was still asked
    (void)headless.draw({}); // this one was not
    (void)ask(7);
    CHECK(made == 4);
}
