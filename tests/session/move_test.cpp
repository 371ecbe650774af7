#include "session/sealing.h"
#include "session/session_support.h"
#include "json/member.h"
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

// Moving an outage to a newer revision, with a library that the test changes under it.
using namespace isochore;
using namespace isochore::session;
using model::StepStatus;
namespace fs = std::filesystem;

namespace {

class Library {
public:
    Library()
    {
        for (char const* name : {"profiles", "checklists"})
            fs::copy(disk::Path(ISOCHORE_SOURCE_DIR) / name, bench.folder / name,
                     fs::copy_options::recursive);
        reopen();
    }
    void reopen()
    {
        bench.workspace.reset();
        auto opened =
            Workspace::open({bench.folder / "store", bench.folder / "checklists", bench.folder / "profiles"},
                            bench.clock, *bench.disk);
        REQUIRE(opened);
        bench.workspace = std::move(*opened);
    }
    /// Replaces one passage, which must be there exactly once.
    void edit(std::string const& file, std::string const& from, std::string const& to)
    {
        std::ifstream in(bench.folder / file);
        std::stringstream all;
        all << in.rdbuf();
        std::string text = all.str();
        auto const at = text.find(from);
        REQUIRE(at != std::string::npos);
        REQUIRE(text.find(from, at + 1) == std::string::npos);
        std::ofstream(bench.folder / file) << text.replace(at, from.size(), to);
        bench.workspace->forget_library();
    }
    /// The profile's next revision with a higher lower limit of the dc supply, and one checklist's with a
    /// step more: a supply closer to its limit was found elsewhere.
    void revise()
    {
        edit("profiles/kd-41.json", "\"revision\": 1,", "\"revision\": 2,");
        edit("profiles/kd-41.json", "\"dc_min\": { \"value\": \"" + dc_min() + "\"",
             "\"dc_min\": { \"value\": \"110 V\"");
        edit("checklists/01_prepare.json", "\"revision\": 1,", "\"revision\": 2,");
        edit("checklists/01_prepare.json", "\"steps\": [",
             R"("steps": [ { "id": "prepare.weather", "kind": "confirm", "title": "Look at the sky",
                "text": "Rain comes into the cabinet.", "why": "Water and gas do not mix.", "wrong": "Wait.",
                "minutes": [1, 1, 1], "source": "common practice, no source",
                "answers": [ { "id": "dry", "label": "It stays dry" } ] },)");
    }
    std::string dc_min() { return bench.workspace->find_profile("kd-41")->profile.text("control.dc_min"); }

    Bench bench;
};

} // namespace

TEST_CASE("an outage that follows the newest texts has nowhere to move")
{
    Library l;
    auto outage = l.bench.begin();
    auto const plan = l.bench.workspace->plan_move(*outage);
    REQUIRE_FALSE(plan);
    CHECK(plan.error().code == Error::Code::not_found);
}

TEST_CASE("changed files alone change nothing: the outage goes on by the texts in its store")
{
    Library l;
    auto outage = l.bench.begin();
    std::string const job = outage->job(), title = outage->checklists().step("joint.temperature")->title;
    outage.reset();
    l.edit("checklists/06_joint.json", "\"title\": \"" + title + "\"", "\"title\": \"Something else\"");
    fs::remove(l.bench.folder / "profiles/kd-41.json");
    fs::remove(l.bench.folder / "checklists/01_prepare.json");
    l.reopen();
    outage = l.bench.resume(job);
    CHECK(outage->checklists().step("joint.temperature")->title == title);
    CHECK(outage->checklists().stages.front().id == "prepare");
}

TEST_CASE("a move says what it changes, keeps both revisions in the store and in the record, and replays")
{
    Library l;
    auto outage = l.bench.begin();
    std::string const job = outage->job(), before = outage->profile().text("control.dc_min");
    REQUIRE(outage->record_value("prepare.dc_float", "131.4 V"));
    REQUIRE(outage->record_value("joint.temperature", "14.2 degC"));
    l.revise();
    auto plan = l.bench.workspace->plan_move(*outage);
    if (!plan)
        FAIL(plan.error().where << ": " << plan.error().detail);
    std::string lines;
    for (auto const& c : plan->changes.changes)
        lines += model::describe(c) + "\n";
    INFO(lines);
    CHECK(lines.find("Step added: Look at the sky") != std::string::npos);
    CHECK(lines.find("at least " + before) != std::string::npos);
    CHECK(lines.find("at least 110 V") != std::string::npos);
    REQUIRE(plan->changes.reopens.size() == 1);
    CHECK(plan->changes.reopens[0].step == "prepare.dc_float");
    CHECK(plan->from.find("revision 1") != std::string::npos);
    CHECK(plan->to.find("revision 2") != std::string::npos);

    auto const entries = outage->state().entries;
    auto const unnamed = l.bench.workspace->move(*outage, *l.bench.workspace->plan_move(*outage), " ", false);
    CHECK_FALSE(unnamed); // and nothing is entered
    CHECK(outage->state().entries == entries);
    REQUIRE(l.bench.workspace->move(*outage, std::move(*plan), "R. Marsh", true));
    CHECK(outage->state().record("prepare.dc_float").status == StepStatus::reopened);
    CHECK(outage->state().record("joint.temperature").status == StepStatus::done);
    CHECK(outage->profile().text("control.dc_min") == "110 V");
    CHECK_FALSE(l.bench.workspace->plan_move(*outage));
    CHECK_FALSE(outage->undo()); // what another revision recorded is corrected, not taken back
    REQUIRE(outage->record_answer("prepare.weather", "dry"));
    REQUIRE(outage->record_value("prepare.dc_float", "131.4 V"));
    CHECK(pinned_hashes(*outage).size() == 13 + 2); // eleven lists, the cautions, the profile; two texts are new

    model::JobState const state = outage->state();
    outage.reset();
    fs::remove_all(l.bench.folder / "profiles");
    fs::remove_all(l.bench.folder / "checklists");
    l.reopen();
    outage = l.bench.resume(job);
    CHECK(outage->state() == state);
    REQUIRE(outage->state().moves.size() == 1);
    CHECK(outage->state().moves[0].by == "R. Marsh");
    CHECK(outage->state().moves[0].from.find("revision 1") != std::string::npos);
    CHECK(outage->profile().revision == 2);
}

TEST_CASE("an outage never moves backwards, nor to texts with faults, nor while it is closed")
{
    Library l;
    l.revise();
    auto outage = l.bench.begin();
    l.edit("profiles/kd-41.json", "\"revision\": 2,", "\"revision\": 1,");
    auto const back = l.bench.workspace->plan_move(*outage);
    REQUIRE_FALSE(back);
    CHECK(back.error().code == Error::Code::denied);
    CHECK(back.error().detail.find("revision 2 already") != std::string::npos);
    l.edit("profiles/kd-41.json", "\"revision\": 1,", "\"revision\": 3,");
    l.edit("profiles/kd-41.json", "\"value\": \"110 V\"", "\"value\": \"112 V\"");
    auto plan = l.bench.workspace->plan_move(*outage);
    REQUIRE(plan);
    REQUIRE(outage->archive());
    CHECK_FALSE(l.bench.workspace->move(*outage, *plan, "R. Marsh", true));
    CHECK(outage->profile().revision == 2);
    l.edit("profiles/kd-41.json", "\"value\": \"112 V\"", "\"value\": \"warm\"");
    auto const broken = l.bench.workspace->plan_move(*outage);
    REQUIRE_FALSE(broken);
    CHECK(broken.error().where.find("kd-41") != std::string::npos);
    CHECK(outage->profile().revision == 2);
}
