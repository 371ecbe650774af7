#include "session/display.h"
#include "session/session_support.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;
using model::StepStatus;

TEST_CASE("an outage goes on at the same step after the program ended, and says what the last entry was")
{
    Bench bench;
    std::string job, next;
    {
        auto outage = bench.begin();
        job = outage->job();
        REQUIRE(outage->record_answer("prepare.nameplate", "same", "N. Quill", "I. Brandt"));
        bench.clock.advance(60);
        REQUIRE(outage->record_value("prepare.nameplate_pressure", "0.616 MPa abs"));
        next = model::next_step(outage->checklists(), outage->state(), {})->id;
    }
    bench.reopen();
    auto outage = bench.resume(job);
    CHECK(model::next_step(outage->checklists(), outage->state(), {})->id == next);
    CHECK(outage->last_entry_line().find("08:01") == 0);
    CHECK(outage->last_entry_line().find("0.616 MPa abs") != std::string::npos);
    CHECK(outage->last_entry_line().find("N. Quill") != std::string::npos);
}

TEST_CASE("what was typed is stored as typed beside its parsed value")
{
    Bench bench;
    auto outage = bench.begin();
    REQUIRE(outage->record_value("joint.temperature", "14.20 degC"));
    Json const& body = outage->bodies().back();
    CHECK(body["typed"] == "14.20 degC");
    CHECK(body["parsed"]["si"].get<double>() == Approx(287.35).epsilon(0).margin(1e-9));
    CHECK(body["parsed"]["unit"] == "K");
}

TEST_CASE("an impossible value is refused in words and nothing is stored")
{
    Bench bench;
    auto outage = bench.begin();
    auto const before = outage->state().entries;
    for (char const* typed : {"-300 degC", "12", "12,5 degC", "warm", "12 bar", "", "1e400 degC"}) {
        auto const done = outage->record_value("joint.temperature", typed);
        CAPTURE(typed);
        REQUIRE_FALSE(done);
        CHECK_FALSE(done.error().detail.empty());
    }
    CHECK(outage->state().entries == before);
    CHECK(bench.workspace->journal().entries(outage->job())->size() == static_cast<std::size_t>(before));
}

TEST_CASE("an unlikely value is asked about, and kept only when confirmed, with the question in the entry")
{
    Bench bench;
    auto outage = bench.begin();
    auto const asked = outage->record_value("joint.temperature", "71 degC");
    REQUIRE_FALSE(asked);
    REQUIRE(outage->record_value("joint.temperature", "71 degC", true));
    CHECK(outage->bodies().back().value("asked", std::string()).find("unusual") != std::string::npos);
}

TEST_CASE("a pressure ten times the prediction is asked about as a slip of the decimal point")
{
    Bench bench;
    auto outage = bench.begin();
    REQUIRE(outage->record_answer("prepare.nameplate", "same", "N. Quill", "I. Brandt"));
    auto const e = evaluate_value(outage->context(), *outage->checklists().step("prepare.nameplate_pressure"),
                                  "6.16 MPa abs");
    INFO(e.problem << e.question);
    CHECK((e.question.find("Ten times") != std::string::npos || !e.problem.empty()));
}

TEST_CASE("a locked step cannot be recorded by any way in, and says what opens it")
{
    Bench bench;
    auto outage = bench.begin();
    auto const done = outage->record_value("mount.depth", "240 mm");
    REQUIRE_FALSE(done);
    CHECK(done.error().code == Error::Code::denied);
    CHECK(done.error().detail.find("Opens when") == 0);
}

TEST_CASE("a challenge step names reader and doer or is not recorded")
{
    Bench bench;
    auto outage = bench.begin();
    CHECK_FALSE(outage->record_answer("prepare.nameplate", "same"));
    CHECK(outage->record_answer("prepare.nameplate", "same", "N. Quill", "I. Brandt"));
}

TEST_CASE("a hold point can be neither put off nor declared not applicable nor overridden")
{
    Bench bench;
    auto outage = bench.begin();
    CHECK_FALSE(outage->defer("safe.dead", "no time", "N. Quill", "handback.sign"));
    CHECK_FALSE(outage->not_applicable("safe.dead", "looks dead"));
    CHECK_FALSE(outage->override_step("safe.dead", "looks dead", "R. Marsh", true));
}

TEST_CASE("a step that does not apply is closed with a reason only, and taken back like any entry")
{
    Bench bench;
    auto outage = bench.begin();
    CHECK(outage->not_applicable("joint.temperature", "").error().code == Error::Code::missing_input);
    CHECK(outage->not_applicable("joint.temperatuer", "none").error().detail.find("joint.temperature") !=
          std::string::npos);
    CHECK_FALSE(outage->not_applicable("prepare.ct_kind", "no CT")); // others wait for its answer
    auto const before = outage->state().entries;
    REQUIRE(outage->not_applicable("joint.temperature", "no thermometer pocket"));
    CHECK(outage->state().entries == before + 1);
    CHECK(outage->state().record("joint.temperature").status == model::StepStatus::not_applicable);
    CHECK_FALSE(outage->not_applicable("joint.temperature", "again"));
    CHECK(outage->last_entry_line().find("no thermometer pocket") != std::string::npos);
    REQUIRE(outage->undo());
    CHECK(outage->state().record("joint.temperature").status == model::StepStatus::not_started);
}

TEST_CASE("a step is put off until a later one only, and until the one proposed when none is named")
{
    Bench bench;
    auto outage = bench.begin();
    auto const earlier = outage->defer("handback.moisture", "no time", "N. Quill", "safe.dead");
    REQUIRE_FALSE(earlier);
    CHECK(earlier.error().code == Error::Code::invalid_input);
    CHECK(earlier.error().detail.find("does not come later") != std::string::npos);
    REQUIRE(outage->defer("handback.moisture", "no time", "N. Quill", {}));
    std::string const before = outage->state().record("handback.moisture").defer_before;
    CHECK(before == "handback.sign");
    CHECK(model::locked_because(outage->checklists(), outage->state(), *outage->checklists().step(before))
              .find(outage->checklists().step("handback.moisture")->title) != std::string::npos);
    REQUIRE(outage->defer("handback.moisture", "settles for a day", "N. Quill", model::after_outage));
    CHECK(outage->last_entry_line().find("until after the outage") != std::string::npos);
}

TEST_CASE("what would be taken back is shown, and it is not a remark made since")
{
    Bench bench;
    auto outage = bench.begin();
    CHECK(outage->to_take_back() == nullptr);
    REQUIRE(outage->record_value("joint.temperature", "14.2 degC"));
    REQUIRE(outage->note({{"type", "remark"}, {"text", "The tablet went from A to B."}}));
    REQUIRE(outage->to_take_back());
    CHECK(outage->describe(*outage->to_take_back()).find("14.2 degC") != std::string::npos);
    REQUIRE(outage->undo());
    CHECK(outage->to_take_back() == nullptr);
}

TEST_CASE("undo is a new entry and holds after a restart")
{
    Bench bench;
    auto outage = bench.begin();
    std::string const job = outage->job();
    REQUIRE(outage->record_value("joint.temperature", "14.2 degC"));
    auto const undone = outage->undo();
    REQUIRE(undone);
    CHECK(undone->find("14.2 degC") != std::string::npos);
    outage.reset();
    bench.reopen();
    outage = bench.resume(job);
    CHECK(outage->state().record("joint.temperature").status == StepStatus::not_started);
    CHECK(outage->state().entries == 3);
    CHECK_FALSE(outage->undo());
}

TEST_CASE("a clock set back during a job is noticed and recorded before the next entry")
{
    Bench bench;
    auto outage = bench.begin();
    bench.clock.set_wall(1772438400000 - 3600 * 1000);
    REQUIRE(outage->record_value("joint.temperature", "14.2 degC"));
    REQUIRE(outage->state().remarks.size() == 1);
    CHECK(outage->state().remarks[0].find("set back by 3600 s") != std::string::npos);
}

TEST_CASE("after a break of more than 15 minutes the last physical step is shown to be looked at again")
{
    Bench bench;
    auto outage = bench.begin();
    REQUIRE(outage->record_answer("safe.briefing", "held", "N. Quill", "I. Brandt"));
    REQUIRE(outage->record_answer("safe.isolated", "locked", "N. Quill", "I. Brandt"));
    CHECK(outage->to_confirm_again() == nullptr);
    bench.clock.advance(16 * 60);
    model::Step const* again = outage->to_confirm_again();
    REQUIRE(again != nullptr);
    CHECK(again->id == "safe.isolated");
    REQUIRE(outage->confirm_again());
    CHECK(outage->to_confirm_again() == nullptr);
}

TEST_CASE(
    "a clock set back or forward neither hides a long break nor is one it cannot know of taken for short")
{
    Bench bench;
    auto outage = bench.begin();
    std::string const job = outage->job();
    REQUIRE(outage->record_answer("safe.briefing", "held", "N. Quill", "I. Brandt"));
    REQUIRE(outage->record_answer("safe.isolated", "locked", "N. Quill", "I. Brandt"));
    auto const start = bench.clock.now().utc_ms;
    // Within one run the monotonic clock counts: set back by an hour after twenty minutes.
    bench.clock.advance(20 * 60);
    bench.clock.set_wall(start - 3600 * 1000);
    REQUIRE(outage->to_confirm_again());
    REQUIRE(outage->confirm_again());
    CHECK(outage->to_confirm_again() == nullptr);
    // After a restart nobody knows how long it was when the clock stands before the last entry.
    outage.reset();
    bench.clock = SetClock(start - 2 * 3600 * 1000, "another run");
    bench.reopen();
    outage = bench.resume(job);
    CHECK(outage->to_confirm_again());
}

TEST_CASE("the tablet handed over goes on under the new name, after a restart too, until it is handed back")
{
    Bench bench;
    auto outage = bench.begin();
    std::string const job = outage->job();
    CHECK_FALSE(outage->hand_over("  "));
    CHECK(outage->who() == "N. Quill");
    REQUIRE(outage->hand_over("R. Tamm"));
    REQUIRE(outage->record_value("joint.temperature", "14.2 degC"));
    outage.reset();
    bench.reopen();
    outage = bench.resume(job);
    CHECK(outage->who() == "R. Tamm");
    REQUIRE(outage->record_value("joint.temperature", "14.4 degC"));
    CHECK(outage->bodies().back()["who"] == "R. Tamm");
    REQUIRE(outage->hand_over("N. Quill"));
    outage.reset();
    outage = bench.resume(job);
    CHECK(outage->who() == "N. Quill");
    // Who signs is not who has the tablet.
    outage->set_who("R. Marsh");
    REQUIRE(outage->note({{"type", "remark"}, {"text", "looked through"}}));
    outage.reset();
    CHECK(bench.resume(job)->who() == "N. Quill");
}

TEST_CASE("an outage keeps the profile and checklists it began with when the library changes")
{
    Bench bench;
    namespace fs = std::filesystem;
    auto const library = bench.folder / "library";
    fs::copy(disk::Path(ISOCHORE_SOURCE_DIR) / "profiles", library, fs::copy_options::recursive);
    bench.workspace.reset();
    auto opened = Workspace::open({bench.folder, disk::Path(ISOCHORE_SOURCE_DIR) / "checklists", library},
                                  bench.clock, *bench.disk);
    REQUIRE(opened);
    bench.workspace = std::move(*opened);
    auto outage = bench.begin();
    std::string const nominal = outage->profile().text("gas.nominal"), job = outage->job();
    outage.reset();
    fs::remove(library / "kd-41.json");
    bench.workspace->forget_library();
    CHECK(bench.resume(job)->profile().text("gas.nominal") == nominal);
    CHECK(bench.workspace->find_profile("kd-41") == nullptr);
}

TEST_CASE("a broken profile is named with its place, cannot begin an outage and is left as it is")
{
    Bench bench;
    namespace fs = std::filesystem;
    auto const library = bench.folder / "library";
    fs::create_directory(library);
    std::string const broken = "{\"format\":\"isochore.profile/1\",\"id\":\"kd-41\",";
    REQUIRE(bench.disk->create(library / "kd-41.json", broken));
    bench.workspace.reset();
    auto opened = Workspace::open({bench.folder, disk::Path(ISOCHORE_SOURCE_DIR) / "checklists", library},
                                  bench.clock, *bench.disk);
    REQUIRE(opened);
    NewOutage setup;
    setup.facts = {{"station", "A"}, {"bay", "B"}, {"serial", "C"}, {"job_no", "D"}, {"window", "2 h"}};
    setup.crew = {"N. Quill"};
    setup.who = "N. Quill";
    auto const begun = (*opened)->begin("kd-41", setup);
    REQUIRE_FALSE(begun);
    CHECK((begun.error().where + begun.error().detail).find("kd-41.json") != std::string::npos);
    CHECK(*bench.disk->read(library / "kd-41.json", 1000) == broken);
}

TEST_CASE("a second program on the same store is refused and told so")
{
    Bench bench;
    disk::Path const source(ISOCHORE_SOURCE_DIR);
    auto const second =
        Workspace::open({bench.folder, source / "checklists", source / "profiles"}, bench.clock, *bench.disk);
    REQUIRE_FALSE(second);
    CHECK(second.error().code == Error::Code::denied);
}

TEST_CASE("readings of a log carry the time of the monotonic clock, not of the wall clock")
{
    Bench bench;
    auto outage = bench.begin();
    auto c = outage->checklists();
    for (auto& stage : c.stages)
        for (auto& step : stage.steps)
            step.needs.clear();
    auto opened =
        Outage::open(outage->journal(), bench.clock, outage->job(), c, outage->profile(), "N. Quill");
    REQUIRE(opened);
    auto& o = **opened;
    REQUIRE(o.add_reading("purge.flow", {"55 % vol"}));
    bench.clock.advance(60);
    bench.clock.set_wall(1772438400000 + 7200 * 1000);
    REQUIRE(o.add_reading("purge.flow", {"75 % vol"}));
    CHECK(o.state().record("purge.flow").readings[1].t_s == Approx(60.0).epsilon(0).margin(1e-3));
    CHECK_FALSE(o.add_reading("purge.flow", {"76 % vol"}));
}

TEST_CASE("a disturbed log begins anew with a reason; the new series is timed from its own first reading")
{
    Bench bench;
    auto outage = bench.begin();
    std::string const job = outage->job();
    CHECK(outage->begin_new_series("fill.pressure", "sun").error().code != Error::Code::missing_input);
    auto c = outage->checklists();
    for (auto& stage : c.stages)
        for (auto& step : stage.steps)
            step.needs.clear();
    auto opened = Outage::open(outage->journal(), bench.clock, job, c, outage->profile(), "N. Quill");
    REQUIRE(opened);
    auto& o = **opened;
    CHECK(o.begin_new_series("purge.flow", "valve not shut").error().code == Error::Code::missing_input);
    REQUIRE(o.add_reading("purge.flow", {"55 % vol"}));
    bench.clock.advance(60);
    REQUIRE(o.add_reading("purge.flow", {"75 % vol"}));
    CHECK(o.begin_new_series("purge.flow", " ").error().code == Error::Code::missing_input);
    CHECK(o.begin_new_series("joint.temperature", "sun").error().code == Error::Code::invalid_input);
    REQUIRE(o.begin_new_series("purge.flow", "valve not shut"));
    CHECK(o.state().record("purge.flow").readings.empty());
    CHECK(o.log_seconds("purge.flow") == 0.0);
    bench.clock.advance(600);
    REQUIRE(o.add_reading("purge.flow", {"60 % vol"}));
    CHECK(o.state().record("purge.flow").readings[0].t_s == 0.0);
    bench.clock.advance(30);
    REQUIRE(o.add_reading("purge.flow", {"70 % vol"}));
    CHECK(o.state().record("purge.flow").readings[1].t_s == Approx(30.0).epsilon(0).margin(1e-3));
    for (int i = 0; i < 3; ++i)
        REQUIRE(o.undo());
    REQUIRE(o.state().record("purge.flow").readings.size() == 2);
    CHECK(o.state().record("purge.flow").set_aside.empty());
}

TEST_CASE("units stand in print as print has them, and nothing else in a sentence changes")
{
    CHECK(in_print("density 37.1 kg/m3 at 14.8 degC, 12 m3") == "density 37.1 kg/m³ at 14.8 °C, 12 m3");
    CHECK(in_print("") == "");
    CHECK(in_print("kg/m3kg/m3") == "kg/m³kg/m³");
}

TEST_CASE("the first start makes the store's folder and those above it")
{
    Bench bench;
    disk::Path const source(ISOCHORE_SOURCE_DIR), data = bench.folder / "a" / "b" / "store";
    auto const opened =
        Workspace::open({data, source / "checklists", source / "profiles"}, bench.clock, *bench.disk);
    REQUIRE(opened);
    CHECK(bench.disk->exists(data / "journal.db"));
    CHECK((*opened)->outages()->empty());
}

TEST_CASE("an archived outage is read, not written, and goes on when it is taken out")
{
    Bench bench;
    auto outage = bench.begin();
    std::string const job = outage->job();
    REQUIRE(outage->archive());
    CHECK_FALSE(outage->archive());
    CHECK_FALSE(outage->record_value("joint.temperature", "14.2 degC"));
    CHECK_FALSE(outage->defer("joint.temperature", "no time", "N. Quill", "handback.sign"));
    CHECK_FALSE(outage->not_applicable("joint.temperature", "none"));
    CHECK_FALSE(outage->undo());
    CHECK_FALSE(outage->confirm_again());
    CHECK_FALSE(outage->note({{"type", "remark"}, {"text", "x"}}));
    CHECK(outage->state().entries == 2);
    CHECK((*bench.workspace->outages())[0].archived);
    outage.reset();
    bench.reopen();
    outage = bench.resume(job);
    CHECK(outage->why_closed().find("archived") != std::string::npos);
    REQUIRE(outage->unarchive());
    CHECK_FALSE((*bench.workspace->outages())[0].archived);
    CHECK_FALSE(outage->unarchive());
    CHECK(outage->record_value("joint.temperature", "14.2 degC"));
}

TEST_CASE("the list knows an outage as sealed also when something was noted after the seal, and archived")
{
    Bench bench;
    auto outage = bench.begin();
    REQUIRE(outage->note({{"type", "sealed"}, {"record", "ab"}}));
    CHECK((*bench.workspace->outages())[0].sealed);
    REQUIRE(outage->note({{"type", "remark"}, {"text", "handed over"}}));
    CHECK((*bench.workspace->outages())[0].sealed);
    REQUIRE(outage->archive());
    auto const row = (*bench.workspace->outages())[0];
    CHECK(row.sealed);
    CHECK(row.archived);
    REQUIRE(outage->unarchive());
    CHECK((*bench.workspace->outages())[0].sealed);
    CHECK_FALSE(outage->record_value("joint.temperature", "14.2 degC"));
}
