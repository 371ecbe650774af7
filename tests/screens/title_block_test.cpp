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
