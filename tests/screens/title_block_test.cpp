#include "screens/headless.h"
#include <algorithm>
#include <catch2/catch.hpp>

using namespace isochore;

namespace {

/// What stands in each cell of the title block of a bare sheet.
class Block {
public:
    explicit Block(screens::TitleBlockView const& block)
    {
        demo::Headless headless;
        headless.resize(demo::formats[0]);
        screens::SheetView view;
        view.list = screens::ListView{};
        view.list->heading = "Outages";
        screens::StageView stage;
        stage.id = "one";
        stage.label = "One";
        view.line = {stage};
        view.block = block;
        (void)headless.draw(view);
        m_elements = headless.canvas().elements();
    }
    [[nodiscard]] std::string text(std::string const& id) const
    {
        auto const* found = find(id);
        return found ? found->text : "(no such cell)";
    }
    [[nodiscard]] bool has(std::string const& id) const { return find(id) != nullptr; }
    [[nodiscard]] bool anything_cut() const
    {
        return std::any_of(m_elements.begin(), m_elements.end(), [](auto const& e) { return e.cut; });
    }

private:
    [[nodiscard]] screens::Element const* find(std::string const& id) const
    {
        auto const it =
            std::find_if(m_elements.begin(), m_elements.end(), [&](auto const& e) { return e.id == id; });
        return it == m_elements.end() ? nullptr : &*it;
    }
    std::vector<screens::Element> m_elements;
};

screens::TitleBlockView block()
{
    return {"Alder Ferry", "Q07", "KD-41", "AF-112", "0:47 / 2:00 h", "r3"};
}

} // namespace

TEST_CASE("without a plan the revision has a cell of its own, with one it stands with the breaker",
          "[screens][block]")
{
    Block const plain(block());
    CHECK(plain.text("block.revision") == "r3");
    CHECK(plain.text("block.breaker") == "KD-41");
    CHECK_FALSE(plain.has("block.slack"));
    auto with_plan = block();
    with_plan.slack_name = "Slack, chance 82 %";
    with_plan.slack = "0:35 h, gas by 15:20";
    Block const planned(with_plan);
    CHECK_FALSE(planned.has("block.revision"));
    CHECK(planned.text("block.breaker") == "KD-41, r3");
    CHECK(planned.text("block.slack") == "0:35 h, gas by 15:20");
    CHECK(planned.text("block.used") == "0:47 / 2:00 h");
}

TEST_CASE("of a name too long for its cell the end goes, by whole characters, and nothing is cut",
          "[screens][block]")
{
    auto longer = block();
    longer.station = "Umspannwerk Überlandmühlenhöhe am Großen Föhrenbruch, Nordfeld";
    longer.job = "ÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜÄÖÜ";
    longer.slack_name = "Slack, chance 82 %";
    longer.slack = "OVER by 1:20 h, NO GAS WORK";
    longer.slack_bad = true;
    Block const drawn(longer);
    for (char const* cell : {"block.station", "block.job"}) {
        std::string const text = drawn.text(cell);
        CAPTURE(cell, text);
        CHECK(text.ends_with("…"));
        std::string const kept = text.substr(0, text.size() - std::string("…").size());
        CHECK((longer.station.starts_with(kept) || longer.job.starts_with(kept)));
        CHECK_FALSE(kept.empty());
        CHECK((static_cast<unsigned char>(kept.back()) & 0xC0U) != 0xC0U); // no half of a character is left
    }
    CHECK(drawn.text("block.bay") == "Q07");
    CHECK(drawn.text("block.slack").starts_with("OVER by 1:20 h"));
    CHECK_FALSE(drawn.anything_cut());
}

TEST_CASE("outside an outage the name of a sheet stands whole, over two lines where it must", "[screens][block]")
{
    demo::Headless headless;
    headless.resize(demo::formats[GENERATE(0, 1)]);
    struct Named {
        std::string shown;
        bool labelled = false, cut = false;
    };
    auto const drawn = [&](std::string const& heading) {
        screens::SheetView view;
        view.list = screens::ListView{};
        view.list->heading = heading;
        view.product_line = "Isochore";
        (void)headless.draw(view);
        Named named;
        for (auto const& e : headless.canvas().elements()) {
            named.labelled = named.labelled || e.id == "block.sheet.name";
            named.cut = named.cut || e.cut;
            if (e.id == "block.sheet")
                named.shown += (named.shown.empty() ? "" : " ") + e.text;
        }
        return named;
    };
    CHECK(drawn("Outages").shown == "Outages");
    CHECK(drawn("Outages").labelled);
    for (std::string const name : {"What became of every row", "Was aus jeder Zeile der Tabelle wurde"}) {
        CHECK(drawn(name).shown == name);
        CHECK_FALSE(drawn(name).cut);
    }
    std::string endless = "Row";
    for (int i = 0; i < 60; ++i)
        endless += " after row";
    auto const ended = drawn(endless);
    CHECK(ended.shown.ends_with("…"));
    CHECK(ended.shown.starts_with("Row after row after row"));
    CHECK_FALSE(ended.cut);
}
