#include "model/job_support.h"
#include <catch2/catch.hpp>
#include <random>

using namespace isochore;
using namespace isochore::model;

namespace {

/// A journal as a crew at odds with itself might write it: everything in any order.
std::vector<Json> random_journal(std::mt19937& random, std::size_t length)
{
    char const* const steps[] = {"safe.dead",   "work.way",   "work.only_a", "work.reading",
                                 "work.result", "work.after", "no.such_step"};
    char const* const verdicts[] = {"pass", "fail", "undecided", "none"};
    auto const pick = [&random](auto const& list) { return list[random() % std::size(list)]; };
    std::vector<Json> bodies{created()};
    while (bodies.size() < length) {
        Json body{{"step", pick(steps)}, {"at", "2026-03-02T09:00:00+00:00"}, {"who", "B. Elder"}};
        body["mono_s"] = static_cast<double>(bodies.size() % 7);
        body["run"] = random() % 9 == 0 ? "b" : "a";
        switch (random() % 13) {
        case 0:
            body.update({{"type", "undone"}, {"undoes", random() % (bodies.size() + 2)}});
            break;
        case 1:
            body.update({{"type", "deferred"}, {"owner", "C. Ash"}, {"before", "work.after"}});
            break;
        case 2:
            body.update({{"type", "overridden"}, {"by", "C. Ash"}, {"reason", "agreed"}});
            break;
        case 3:
            body.update({{"type", "not_applicable"}, {"reason", "no such part"}});
            break;
        case 4:
            body.update(
                {{"type", "reading"}, {"t_s", 60}, {"values", {"1 bar g"}}, {"restart", random() % 3 == 0}});
            break;
        case 5:
            body.update({{"type", "moved"}, {"reopens", {{{"step", pick(steps)}, {"because", "new"}}}}});
            break;
        case 6:
            body.update({{"type", random() % 2 ? "archived" : "unarchived"}});
            break;
        case 8:
            body.update({{"type", "series_anew"}, {"reason", "sun on the pipe"}});
            break;
        case 7:
            body.update({{"type", "clock"}, {"text", "set back"}});
            break;
        default:
            body.update(
                {{"type", "recorded"}, {"verdict", pick(verdicts)}, {"typed", std::to_string(random() % 3)}});
            if (random() % 2)
                body["answer"] = random() % 2 ? "a" : "b";
        }
        bodies.push_back(std::move(body));
    }
    return bodies;
}

} // namespace

TEST_CASE("a replay that follows the journal entry by entry ends where a whole one ends, after every prefix")
{
    auto const first = small_checklists();
    auto second = first;
    second.stages[1].steps[3].call.reset(); // after a move other steps depend on one another
    Revisions const revisions{&first, &second};
    std::mt19937 random(11);
    int compared = 0;
    for (int journal = 0; journal < 40; ++journal) {
        auto const bodies = random_journal(random, 60);
        Replay following(revisions);
        std::vector<Json> prefix;
        for (auto const& body : bodies) {
            prefix.push_back(body);
            if (random() % 4 == 0) // now and then two at once, as after a clock entry
                continue;
            following.follow(prefix);
            if (following.state() != replay(revisions, prefix))
                FAIL("journal " << journal << " entry " << prefix.size() - 1 << ": " << body.dump());
            ++compared;
        }
    }
    CHECK(compared > 1000);
}

TEST_CASE("an entry counts by the checklists that held when it was made")
{
    auto const first = small_checklists();
    auto second = first;
    second.stages[1].steps[3].call.reset(); // the calculation no longer reads the gauge
    std::vector<Json> bodies{created(), recorded("work.reading", "4.61 bar g"),
                             recorded("work.result", "37", "pass")};
    Json const moved{
        {"type", "moved"}, {"from", "kd-41 revision 1"}, {"to", "kd-41 revision 2"}, {"by", "R. Marsh"}};
    auto corrected_then_moved = bodies;
    corrected_then_moved.push_back(recorded("work.reading", "4.16 bar g"));
    corrected_then_moved.push_back(moved);
    auto moved_then_corrected = bodies;
    moved_then_corrected.push_back(moved);
    moved_then_corrected.push_back(recorded("work.reading", "4.16 bar g"));
    CHECK(replay({&first, &second}, corrected_then_moved).record("work.result").status ==
          StepStatus::reopened);
    CHECK(replay({&first, &second}, moved_then_corrected).record("work.result").status == StepStatus::done);
}

TEST_CASE("an archived outage says since when and by whom, and is whole again when it is taken out")
{
    auto const c = small_checklists();
    Json const away{{"type", "archived"}, {"at", "2026-03-03T08:00:00+00:00"}, {"who", "R. Marsh"}};
    Json const back{{"type", "unarchived"}, {"at", "2026-03-04T08:00:00+00:00"}, {"who", "R. Marsh"}};
    auto const put_away = replay(c, {created(), away});
    CHECK(put_away.archived);
    CHECK(put_away.archived_by == "R. Marsh");
    CHECK_FALSE(replay(c, {created(), away, back}).archived);
}

TEST_CASE("a log that begins anew counts only its new series, and what its old result led to opens again")
{
    auto c = small_checklists();
    Step hold;
    hold.id = "work.hold";
    hold.kind = StepKind::log;
    hold.title = "Hold and log";
    c.stages[1].steps.insert(c.stages[1].steps.begin(), hold);
    c.stages[1].steps[4].call =
        CalcCall{"gas.density", R"({"pressure":"step:work.hold.leak_rate"})", "", {"work.hold"}};
    auto const reading = [](double t_s, char const* value) {
        return Json{{"type", "reading"}, {"step", "work.hold"}, {"t_s", t_s}, {"values", {value}}};
    };
    Json const anew{{"type", "series_anew"},
                    {"step", "work.hold"},
                    {"reason", "Sun on the pipe"},
                    {"who", "A. Rowan"},
                    {"at", "2026-03-02T10:14:00+00:00"}};
    std::vector<Json> bodies{created(),
                             reading(0, "5.200 bar g"),
                             reading(120, "5.231 bar g"),
                             recorded("work.hold", "", "undecided"),
                             recorded("work.result", "37", "pass"),
                             anew,
                             reading(0, "5.210 bar g")};
    auto const now = replay(c, bodies);
    StepRecord const& record = now.record("work.hold");
    REQUIRE(record.readings.size() == 1);
    CHECK(record.readings[0].values[0] == "5.210 bar g");
    CHECK(record.verdict.empty()); // nor does what the old series said
    CHECK(record.status == StepStatus::in_progress);
    CHECK(record.set_aside ==
          std::vector<SetAside>{{2, "Sun on the pipe", "2026-03-02T10:14:00+00:00", "A. Rowan"}});
    CHECK(record.history.size() == 5); // every entry of the step is still there
    CHECK(now.record("work.result").status == StepStatus::reopened);

    // The result of the new series keeps what was set aside; taking the beginning back brings the old one
    // back.
    auto ended = bodies;
    ended.push_back(recorded("work.hold", "", "pass"));
    CHECK(replay(c, ended).record("work.hold").set_aside.size() == 1);
    bodies.pop_back();
    bodies.push_back({{"type", "undone"}, {"step", "work.hold"}, {"undoes", 5}});
    auto const back = replay(c, bodies);
    CHECK(back.record("work.hold").readings.size() == 2);
    CHECK(back.record("work.hold").status == StepStatus::undecided);
    CHECK(back.record("work.result").status == StepStatus::done);
    CHECK(describe_entry(c, anew) == "Began a new series at “Hold and log”: Sun on the pipe");
}

TEST_CASE("a reading after an undecided end opens what was built on it, as after a passed one")
{
    auto c = small_checklists();
    c.stages[1].steps[2].kind = StepKind::log;
    c.stages[1].steps[2].needs.clear();
    Json const reading{{"type", "reading"}, {"step", "work.reading"}, {"t_s", 60}, {"values", {"1 bar g"}}};
    auto const now = replay(c, {created(), reading, recorded("work.reading", "", "undecided"),
                                recorded("work.result", "37", "pass"), reading});
    CHECK(now.record("work.result").status == StepStatus::reopened);
}
