#include "model/job_support.h"
#include "model/revision_move.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::model;

namespace {

Profile profile(int revision, char const* limit)
{
    Profile p;
    p.id = "kd-41";
    p.revision = revision;
    p.values["gas.leak_limit"] = {limit, "test sheet", true};
    p.values["gas.nominal"] = {"0.616 MPa abs", "nameplate", true};
    return p;
}

/// Everything closed: dead, way a, its reading, the result, and the reading after it.
std::vector<Json> all_closed()
{
    return {created(),
            answered("safe.dead", "dead"),
            answered("work.way", "a", "none"),
            recorded("work.only_a", "1"),
            recorded("work.reading", "4.61 bar g"),
            recorded("work.result", "37", "pass"),
            recorded("work.after", "38 kg/m3", "pass")};
}

struct Case {
    Checklists old = small_checklists(), next = small_checklists();
    Profile old_profile = profile(1, "0.5 %/yr"), next_profile = profile(2, "0.5 %/yr");
    std::vector<Json> bodies = all_closed();

    Step& step(char const* id) { return const_cast<Step&>(*next.step(id)); }
    RevisionMove move() const
    {
        return compare_revisions({old, old_profile}, {next, next_profile}, replay(old, bodies));
    }
};

std::vector<std::string> opened(RevisionMove const& move)
{
    std::vector<std::string> ids;
    for (auto const& r : move.reopens)
        ids.push_back(r.step);
    return ids;
}

std::string lines(RevisionMove const& move)
{
    std::string text;
    for (auto const& c : move.changes)
        text += describe(c) + "\n";
    return text;
}

using Ids = std::vector<std::string>;

} // namespace

TEST_CASE("the same texts bring no change and open nothing")
{
    auto const move = Case{}.move();
    CHECK(move.changes.empty());
    CHECK(move.reopens.empty());
}

TEST_CASE("a changed limit is listed with both values and opens its step and what used it")
{
    Case c;
    c.step("work.reading").limit = StepLimit{"4.5 bar g", "", "maker", true};
    auto const move = c.move();
    CHECK(lines(move) == "Limit, Read the gauge: no limit → at least 4.5 bar g\n");
    CHECK(opened(move) == Ids{"work.reading", "work.result", "work.after"});
    CHECK(move.reopens[0].because.find("no limit") != std::string::npos);
    CHECK(move.reopens[1].because.find("Read the gauge") != std::string::npos);
}

TEST_CASE("a limit that the profile changed is listed at the step that has it, and at the profile")
{
    Case c;
    for (auto* lists : {&c.old, &c.next})
        const_cast<Step*>(lists->step("work.after"))->limit =
            StepLimit{"", "profile:gas.leak_limit", "profile", true};
    c.next_profile = profile(2, "0.3 %/yr");
    auto const move = c.move();
    CHECK(lines(move).find("Limit, Read after: at most 0.5 %/yr → at most 0.3 %/yr") != std::string::npos);
    CHECK(lines(move).find("Profile, ") != std::string::npos);
    CHECK(opened(move) == Ids{"work.after"});
}

TEST_CASE("a profile value written otherwise is listed and opens nothing")
{
    Case c;
    for (auto* lists : {&c.old, &c.next})
        const_cast<Step*>(lists->step("work.after"))->limit =
            StepLimit{"profile:gas.nominal", "", "profile", true};
    c.next_profile.values["gas.nominal"].value = "6.16 bar abs";
    auto const move = c.move();
    CHECK(move.changes.size() == 1);
    CHECK(move.reopens.empty());
}

TEST_CASE("added and removed steps are listed, and a removed one says how it stood")
{
    Case c;
    Step extra;
    extra.id = "work.extra";
    extra.title = "Look again";
    c.next.stages[1].steps.push_back(extra);
    c.next.stages[1].steps.erase(c.next.stages[1].steps.begin() + 1);
    auto const move = c.move();
    CHECK(lines(move) == "Step added: Look again\nStep removed: Only for A (done)\n");
    CHECK(move.reopens.empty());
}

TEST_CASE("a step of another kind starts anew, and the state forgets what answered the old question")
{
    Case c;
    c.step("work.reading").kind = StepKind::confirm;
    auto const move = c.move();
    REQUIRE(opened(move) == Ids{"work.reading", "work.result", "work.after"});
    CHECK(move.reopens[0].anew);
    Json reopens = Json::array();
    for (auto const& r : move.reopens)
        reopens.push_back({{"step", r.step}, {"because", r.because}, {"anew", r.anew}});
    c.bodies.push_back({{"type", "moved"}, {"reopens", reopens}});
    auto const state = replay({&c.old, &c.next}, c.bodies);
    CHECK(state.record("work.reading").status == StepStatus::not_started);
    CHECK(state.record("work.reading").typed.empty());
    CHECK(state.record("work.reading").history.size() == 2);
    CHECK(state.record("work.result").status == StepStatus::reopened);
    CHECK(state.record("work.result").reopened_by_move == move.reopens[1].because);
}

TEST_CASE("other wording is listed and opens nothing")
{
    Case c;
    c.step("work.way").text = "Ask the foreman.";
    auto const move = c.move();
    CHECK(move.changes.size() == 1);
    CHECK(move.changes[0].kind == RevisionChange::Kind::wording);
    CHECK(move.reopens.empty());
}

TEST_CASE("a new need opens a closed step only while what it needs is open")
{
    Case c;
    c.step("work.way").needs = {"work.reading"};
    CHECK(c.move().reopens.empty());
    c.bodies.push_back({{"type", "undone"}, {"step", "work.reading"}, {"undoes", 4}});
    CHECK(opened(c.move()).front() == "work.way");
}

TEST_CASE("a step that now names reader and doer opens where it names none")
{
    Case c;
    c.step("safe.dead").challenge = true;
    CHECK(opened(c.move()) == Ids{"safe.dead"});
    c.bodies[1]["reader"] = "A. Rowan";
    c.bodies[1]["doer"] = "B. Elder";
    CHECK(c.move().reopens.empty());
}

TEST_CASE("an answer that is no longer in order opens the step")
{
    Case c;
    c.step("work.way").answers[0].ok = false;
    auto const move = c.move();
    CHECK(opened(move).front() == "work.way");
    CHECK(lines(move).find("A (not in order)") != std::string::npos);
}
