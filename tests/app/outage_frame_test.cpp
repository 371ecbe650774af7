#include "app/outage_frame.h"
#include "session/session_support.h"
#include <algorithm>
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::app;

namespace {

struct Window {
    session::Bench bench;
    Desk desk{*bench.workspace, {}, {}, {}, {}, {}, {}, {}, {}, {}};

    Window() { desk.outage = bench.begin(); }
    screens::SheetView sheet(std::string_view stage = {})
    {
        screens::SheetView view;
        frame_outage(desk, view, stage);
        return view;
    }
    screens::TitleBlockView block() { return *sheet().block; }
    screens::StageView stage(std::string_view id)
    {
        auto const view = sheet(id);
        auto const it =
            std::find_if(view.line.begin(), view.line.end(), [&](auto const& s) { return s.id == id; });
        REQUIRE(it != view.line.end());
        return *it;
    }
    /// The same outage with a planned window nobody can read.
    void without_window()
    {
        auto& journal = desk.outage->journal();
        Json body = desk.outage->bodies().front();
        for (char const* own : {"job", "n", "prev"})
            body.erase(own);
        body["facts"].erase("window");
        body["facts"].erase("bay");
        REQUIRE(journal.append("no-window", body));
        desk.outage = bench.resume("no-window");
    }
};

} // namespace

TEST_CASE("the title block says which breaker of which bay is in hand, by which revision of its profile")
{
    Window window;
    auto const block = window.block();
    CHECK(block.station == "Alder Ferry");
    CHECK(block.bay == "Q07");
    CHECK(block.job == "T 1");
    CHECK(block.breaker == window.desk.outage->profile().text("breaker.model"));
    CHECK(block.revision == "r" + std::to_string(window.desk.outage->profile().revision));
}

TEST_CASE("before the first work of the window the block names the window, afterwards the time used of it")
{
    Window window;
    CHECK(window.block().time_used == "window 2:00 h");
    REQUIRE(window.desk.outage->record_answer("safe.briefing", "held", "N. Quill", "I. Brandt"));
    CHECK(window.block().time_used == "0:00 / 2:00 h");
    window.bench.clock.advance(47 * 60 + 59);
    CHECK(window.block().time_used == "0:47 / 2:00 h"); // a minute counts when it is over
    window.bench.clock.advance(1);
    CHECK(window.block().time_used == "0:48 / 2:00 h");
}

TEST_CASE("the block warns before the window is over, and says by how much it is over-run")
{
    Window window;
    REQUIRE(window.desk.outage->record_answer("safe.briefing", "held", "N. Quill", "I. Brandt"));
    window.bench.clock.advance(119 * 60);
    auto block = window.block();
    CHECK(block.slack.find("SHORT by ") == 0); // a minute does not hold the work that is left
    CHECK(block.slack.find("NO GAS WORK") != std::string::npos);
    CHECK(block.slack_bad);
    CHECK(block.slack_name.find("chance 0 %") != std::string::npos);
    window.bench.clock.advance(21 * 60);
    block = window.block();
    CHECK(block.slack.find("OVER by 0:20 h") == 0);
    CHECK(block.slack_bad);
}

TEST_CASE("without a window and without a bay the block has dashes, no slack and no warning")
{
    Window window;
    window.without_window();
    auto const block = window.block();
    CHECK(block.bay == "–");
    CHECK(block.time_used == "–");
    CHECK(block.slack.empty());
    CHECK_FALSE(block.slack_bad);
}

TEST_CASE("a clock set back before the outage began uses no time of the window")
{
    Window window;
    REQUIRE(window.desk.outage->record_answer("safe.briefing", "held", "N. Quill", "I. Brandt"));
    window.bench.clock.set_wall(window.bench.clock.now().utc_ms - 3600 * 1000);
    CHECK(window.block().time_used == "0:00 / 2:00 h");
}

TEST_CASE("the line has one device a stage, marks the stage in hand, and counts its closed steps")
{
    Window window;
    auto const view = window.sheet("prepare");
    REQUIRE(view.line.size() == window.desk.outage->checklists().stages.size());
    CHECK(std::count_if(view.line.begin(), view.line.end(), [](auto const& s) { return s.current; }) == 1);
    auto const before = window.stage("prepare");
    CHECK(before.current);
    CHECK_FALSE(before.closed);
    CHECK(before.progress.starts_with("0/"));
    REQUIRE(window.desk.outage->record_answer("prepare.nameplate", "same", "N. Quill", "I. Brandt"));
    CHECK(window.stage("prepare").progress.starts_with("1/"));
}

TEST_CASE("over a stage stands what is worst in it: a failed step before one put off")
{
    Window window;
    auto& outage = *window.desk.outage;
    CHECK(window.stage("prepare").flag.empty());
    REQUIRE(outage.defer("prepare.dc_float", "meter not here", "I. Brandt", {}));
    CHECK(window.stage("prepare").flag == "1 later");
    CHECK(window.stage("prepare").flag_mark == screens::Mark::deferred);
    REQUIRE(outage.record_answer("prepare.nameplate", "differs", "N. Quill", "I. Brandt"));
    CHECK(window.stage("prepare").flag == "1 failed");
    CHECK(window.stage("prepare").flag_mark == screens::Mark::fail);
    CHECK(window.stage("safe").flag.empty());
}

TEST_CASE("a mark tells what passed a limit from what was only recorded, and an override from both")
{
    using S = model::StepStatus;
    using screens::Mark;
    CHECK(mark_of(S::done, "pass") == Mark::pass);
    CHECK(mark_of(S::done, "none") == Mark::recorded);
    CHECK(mark_of(S::failed, "fail") == Mark::fail);
    CHECK(mark_of(S::overridden, "fail") == Mark::overridden);
    CHECK(mark_of(S::reopened, "pass") == Mark::undecided); // what it rests on was corrected
    CHECK(mark_of(S::in_progress) == Mark::open);
    CHECK(mark_of_verdict("undecided") == Mark::undecided);
    CHECK(mark_of_verdict("") == Mark::none);
}
