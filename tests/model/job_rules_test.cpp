#include "model/job_support.h"
#include <algorithm>
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::model;

namespace {

StepStatus status(Checklists const& c, std::vector<Json> const& bodies, char const* id)
{
    return status_of(c, replay(c, bodies), *c.step(id));
}

} // namespace

TEST_CASE("a step behind a hold point is locked and says what opens it")
{
    auto const c = small_checklists();
    auto const state = replay(c, {created()});
    CHECK(locked_because(c, state, *c.step("work.reading")) == "Opens when “Prove dead” is closed.");
    auto const later = replay(c, {created(), answered("safe.dead", "dead")});
    CHECK(locked_because(c, later, *c.step("work.reading")).empty());
}

TEST_CASE("a failed hold point keeps everything behind it locked")
{
    auto const c = small_checklists();
    auto const state = replay(c, {created(), answered("safe.dead", "live", "fail")});
    CHECK_FALSE(locked_because(c, state, *c.step("work.reading")).empty());
}

TEST_CASE("a hold point that was put off does not open what it guards")
{
    auto const c = small_checklists();
    Json const put_off{
        {"type", "deferred"}, {"step", "safe.dead"}, {"owner", "B. Elder"}, {"before", "work.after"}};
    CHECK_FALSE(locked_because(c, replay(c, {created(), put_off}), *c.step("work.reading")).empty());
}

TEST_CASE("a step put off lets others pass only until the step it must be closed before")
{
    auto c = small_checklists();
    c.stages[1].steps[4].needs = {"work.reading"};
    c.stages[1].steps[3].needs = {"work.reading"};
    c.stages[1].steps[3].call.reset();
    Json const put_off{
        {"type", "deferred"}, {"step", "work.reading"}, {"owner", "B. Elder"}, {"before", "work.after"}};
    auto const state = replay(c, {created(), answered("safe.dead", "dead"), put_off});
    CHECK(locked_because(c, state, *c.step("work.result")).empty());
    CHECK_FALSE(locked_because(c, state, *c.step("work.after")).empty());
}

TEST_CASE("the step a deferral must be closed before is locked until then, though it needs nothing of it")
{
    auto const c = small_checklists();
    std::vector<Json> bodies{created(), answered("safe.dead", "dead"), answered("work.way", "b", "none")};
    Json put_off{
        {"type", "deferred"}, {"step", "work.reading"}, {"owner", "B. Elder"}, {"before", "work.after"}};
    bodies.push_back(put_off);
    auto const state = replay(c, bodies);
    CHECK(locked_because(c, state, *c.step("work.after")) == "Opens when “Read the gauge” is closed.");
    bodies.push_back(recorded("work.result", "", "pass"));
    auto const rest = replay(c, bodies); // nothing else is open: it comes back by itself
    REQUIRE(next_step(c, rest, "work.after"));
    CHECK(next_step(c, rest, "work.after")->id == "work.reading");
    auto const left = deviations(c, state);
    CHECK(std::any_of(left.begin(), left.end(), [](Deviation const& d) {
        return d.status == StepStatus::deferred && d.blocks_signing &&
               d.text.find("to be closed before “Read after”") != std::string::npos;
    }));
    bodies.push_back(recorded("work.reading", "1"));
    CHECK(locked_because(c, replay(c, bodies), *c.step("work.after")).empty());

    bodies.back() = put_off;
    bodies.back()["before"] = after_outage;
    auto const outlives = replay(c, bodies);
    CHECK(locked_because(c, outlives, *c.step("work.after")).empty());
    for (auto const& d : deviations(c, outlives))
        if (d.status == StepStatus::deferred)
            CHECK_FALSE(d.blocks_signing);
}

TEST_CASE("only later steps are offered for a deferral, and the first that uses it is proposed")
{
    auto const c = small_checklists();
    auto const state =
        replay(c, {created(), answered("safe.dead", "dead"), answered("work.way", "b", "none")});
    std::vector<std::string> ids;
    for (Step const* step : may_wait_until(c, state, *c.step("work.way")))
        ids.push_back(step->id);
    CHECK(ids ==
          std::vector<std::string>{"work.reading", "work.result", "work.after"}); // not the branch of A
    REQUIRE(proposed_wait(c, state, *c.step("work.reading")));
    CHECK(proposed_wait(c, state, *c.step("work.reading"))->id == "work.result");
    CHECK(proposed_wait(c, state, *c.step("work.way"))->id ==
          "work.after"); // nothing open needs it: the last
    CHECK(proposed_wait(c, state, *c.step("work.after")) == nullptr);
}

TEST_CASE("the branch not taken is not applicable and the branch not chosen yet is locked")
{
    auto const c = small_checklists();
    auto const open = replay(c, {created()});
    CHECK_FALSE(applies(c, open, *c.step("work.only_a")).has_value());
    CHECK_FALSE(locked_because(c, open, *c.step("work.only_a")).empty());
    CHECK(status(c, {created(), answered("work.way", "b", "none")}, "work.only_a") ==
          StepStatus::not_applicable);
    CHECK(status(c, {created(), answered("work.way", "a", "none")}, "work.only_a") ==
          StepStatus::not_started);
}

TEST_CASE("a corrected reading opens again all that used it, and says which reading it was")
{
    auto const c = small_checklists();
    std::vector<Json> bodies{created(), answered("safe.dead", "dead"),
                             recorded("work.reading", "4.61 bar g")};
    Json result = recorded("work.result", "", "pass");
    result["result"] = {{"results", {{"density", {{"value", 37.0}, {"unit", "kg/m3"}}}}}};
    bodies.push_back(result);
    bodies.push_back(recorded("work.after", "38 kg/m3", "pass"));
    CHECK(status(c, bodies, "work.after") == StepStatus::done);
    bodies.push_back(recorded("work.reading", "4.16 bar g"));
    auto const state = replay(c, bodies);
    CHECK(state.record("work.result").status == StepStatus::reopened);
    CHECK(state.record("work.after").status == StepStatus::reopened);
    CHECK(state.record("work.after").reopened_because == "Read the gauge");
    CHECK(state.record("work.reading").history == std::vector<std::int64_t>{2, 5});
}

TEST_CASE("recording the same value again opens nothing")
{
    auto const c = small_checklists();
    std::vector<Json> const bodies{created(), recorded("work.reading", "4.61 bar g"),
                                   recorded("work.after", "1", "pass"),
                                   recorded("work.reading", "4.61 bar g")};
    CHECK(status(c, bodies, "work.after") == StepStatus::done);
}

TEST_CASE("a new failing reading cancels an earlier override")
{
    auto const c = small_checklists();
    Json const over{{"type", "overridden"}, {"step", "work.after"}, {"by", "C. Ash"}, {"reason", "agreed"}};
    std::vector<Json> bodies{created(), recorded("work.after", "1 kg/m3", "fail"), over};
    CHECK(status(c, bodies, "work.after") == StepStatus::overridden);
    bodies.push_back(recorded("work.after", "2 kg/m3", "fail"));
    CHECK(status(c, bodies, "work.after") == StepStatus::failed);
}

TEST_CASE("what does not apply opens the way for others, is told apart with its reason, and a reading ends it")
{
    auto const c = small_checklists();
    CHECK(always_applies(c, *c.step("safe.dead"))); // a hold point
    CHECK(always_applies(c, *c.step("work.way")));  // other steps wait for its answer
    CHECK_FALSE(always_applies(c, *c.step("work.reading")));
    Json const aside{{"type", "not_applicable"}, {"step", "work.reading"}, {"reason", "no such gauge"}};
    std::vector<Json> bodies{created(), answered("safe.dead", "dead"), answered("work.way", "b", "none")};
    CHECK(next_step(c, replay(c, bodies), {})->id == "work.reading");
    bodies.push_back(aside);
    auto const state = replay(c, bodies);
    CHECK(next_step(c, state, {})->id == "work.result"); // the calculation says itself what it misses
    auto const told = deviations(c, state);
    CHECK(std::any_of(told.begin(), told.end(), [](Deviation const& d) {
        return d.step->id == "work.reading" && d.text.find("no such gauge") != std::string::npos && !d.blocks_signing;
    }));
    bodies.push_back(recorded("work.reading", "1"));
    CHECK(status(c, bodies, "work.reading") == StepStatus::done);
}

TEST_CASE("an entry taken back no longer counts but stays in the history")
{
    auto const c = small_checklists();
    std::vector<Json> const bodies{created(), recorded("work.reading", "4.61 bar g"),
                                   Json{{"type", "undone"}, {"step", "work.reading"}, {"undoes", 1}}};
    auto const state = replay(c, bodies);
    CHECK(state.record("work.reading").status == StepStatus::not_started);
    CHECK(state.record("work.reading").history.size() == 2);
    CHECK(state.entries == 3);
}

TEST_CASE("one next step is always offered until all is closed")
{
    auto const c = small_checklists();
    std::vector<Json> bodies{created()};
    REQUIRE(next_step(c, replay(c, bodies), {}));
    CHECK(next_step(c, replay(c, bodies), {})->id == "safe.dead");
    bodies.push_back(answered("safe.dead", "dead"));
    bodies.push_back(answered("work.way", "b", "none"));
    CHECK(next_step(c, replay(c, bodies), {})->id == "work.reading");
    bodies.push_back(recorded("work.reading", "1"));
    Json result = recorded("work.result", "", "pass");
    result["result"] = {{"results", Json::object()}};
    bodies.push_back(result);
    bodies.push_back(recorded("work.after", "1", "pass"));
    CHECK(next_step(c, replay(c, bodies), {}) == nullptr);
    CHECK(progress(c, replay(c, bodies), c.stages[1]).complete());
    CHECK(progress(c, replay(c, bodies), c.stages[1]).applicable == 4);
}

TEST_CASE("deviations come worst first and the branch not taken is none")
{
    auto const c = small_checklists();
    Json const put_off{
        {"type", "deferred"}, {"step", "work.reading"}, {"owner", "B. Elder"}, {"reason", "no load"}};
    auto const state = replay(c, {created(), answered("safe.dead", "dead"), answered("work.way", "b", "none"),
                                  put_off, recorded("work.after", "1", "fail")});
    auto const list = deviations(c, state);
    REQUIRE(list.size() == 3);
    CHECK(list[0].step->id == "work.after");
    CHECK(list[0].blocks_signing);
    CHECK(list[2].step->id == "work.reading");
    CHECK_FALSE(list[2].blocks_signing);
}

TEST_CASE("an entry of a later version is counted and said, not lost")
{
    auto const c = small_checklists();
    auto const state = replay(c, {created(), Json{{"type", "hologram"}, {"at", "x"}}});
    CHECK(state.entries == 2);
    REQUIRE(state.remarks.size() == 1);
    CHECK(state.remarks[0].find("hologram") != std::string::npos);
}

TEST_CASE("replaying any prefix of a journal never fails and only ever adds entries")
{
    auto const c = small_checklists();
    std::vector<Json> const all{created(),
                                answered("safe.dead", "live", "fail"),
                                answered("safe.dead", "dead"),
                                answered("work.way", "a", "none"),
                                recorded("work.only_a", "1"),
                                Json{{"type", "undone"}, {"step", "work.only_a"}, {"undoes", 4}},
                                Json::array(),
                                Json{{"type", 7}},
                                recorded("work.reading", "4.61 bar g")};
    for (std::size_t n = 0; n <= all.size(); ++n) {
        std::vector<Json> const prefix(all.begin(), all.begin() + static_cast<long>(n));
        CHECK(replay(c, prefix).entries == static_cast<std::int64_t>(n));
    }
}

TEST_CASE("a locked step leads to the open step behind all that it waits for")
{
    auto const c = small_checklists();
    auto const state = replay(c, {created()});
    CHECK(leads_to(c, state, *c.step("work.result")).id == "safe.dead");
    CHECK(leads_to(c, state, *c.step("safe.dead")).id == "safe.dead");
}
