#include "demo_outage.h"
#include "journal/journal.h"
#include <catch2/catch.hpp>

using namespace cli_test;

namespace {

Said status(Tablet& tablet, DemoOutage& outage)
{
    auto o = outage.options();
    o.json = true;
    return tablet.run(cli::job_status_command, o);
}

Said history(Tablet& tablet, DemoOutage& outage)
{
    auto o = outage.options();
    o.json = true;
    return tablet.run(cli::job_history_command, o);
}

Json step_of(Said const& said, std::string const& id)
{
    for (auto const& step : said.json().value("steps", Json::array()))
        if (step["step"] == id)
            return step;
    return Json();
}

} // namespace

TEST_CASE("an outage is created, entered, corrected, put off, undone and exported, and reads the same again")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE(outage.create() == "AF-Q07-112");
    REQUIRE(outage.enter_until("joint.isolated") == "");

    // A correction opens again what was computed from it.
    CHECK(step_of(status(tablet, outage), "joint.as_found")["status"] == "done");
    auto const corrected =
        tablet.run(cli::job_enter_command, outage.options("joint.temperature", "14.4 degC"));
    INFO(corrected.text);
    REQUIRE(corrected.code == 0);
    auto const opened = status(tablet, outage);
    CHECK(step_of(opened, "joint.temperature")["typed"] == "14.4 degC");
    CHECK(step_of(opened, "joint.as_found")["status"] != "done");

    // Undo is one more entry that brings the old value back.
    auto const entries = opened.json()["entries"].get<int>();
    REQUIRE(tablet.run(cli::job_undo_command, outage.options()).code == 0);
    auto const undone = status(tablet, outage);
    CHECK(step_of(undone, "joint.temperature")["typed"] == "14.2 degC");
    CHECK(undone.json()["entries"] == entries + 1);

    auto later = outage.options("handback.moisture");
    later.reason = "Moisture settles for a day";
    later.owner = "N. Quill";
    auto const deferred = tablet.run(cli::job_defer_command, later);
    INFO(deferred.text);
    CHECK(deferred.code == 0);

    // Every command opens the store anew: two looks, and a look into the exported copy, are the same bytes.
    auto const seen = status(tablet, outage), told = history(tablet, outage);
    REQUIRE(seen.code == 0);
    REQUIRE(told.code == 0);
    CHECK(status(tablet, outage).text == seen.text);
    CHECK(history(tablet, outage).text == told.text);
    std::filesystem::create_directories(tablet.folder / "copy");
    cli::JobOptions save;
    save.file = (tablet.folder / "copy/journal.db").string();
    auto const saved = tablet.run(cli::job_export_command, save);
    INFO(saved.text);
    REQUIRE(saved.code == 0);
    tablet.places.data = (tablet.folder / "copy").string();
    CHECK(status(tablet, outage).text == seen.text);
    CHECK(history(tablet, outage).text == told.text);
    CHECK(tablet.run(cli::job_verify_command, outage.options()).code == 0);
}

TEST_CASE("a log begins anew at the shell too, with its reason in the history")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE(outage.create() == "AF-Q07-112");
    REQUIRE(outage.enter_until("purge.hold") == "");
    auto reading = outage.options("purge.hold");
    reading.values = {"5.200 bar g", "14.9 degC"};
    REQUIRE(tablet.run(cli::job_enter_command, reading).code == 0);
    auto anew = outage.options("purge.hold");
    anew.reason = "sun on the pipe";
    auto const begun = tablet.run(cli::job_series_command, anew);
    INFO(begun.text);
    REQUIRE(begun.code == 0);
    CHECK(begun.text.find("a new series begins") != std::string::npos);
    CHECK(history(tablet, outage).text.find("sun on the pipe") != std::string::npos);
    CHECK(tablet.run(cli::job_series_command, anew).code == 2); // there is nothing to give up now
    CHECK(tablet.run(cli::job_undo_command, outage.options()).text.find("Began a new series") !=
          std::string::npos);
}

TEST_CASE("a locked step is refused with the words that unlock it, and nothing is entered")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE_FALSE(outage.create().empty());
    auto const before = history(tablet, outage).text;
    auto const said = tablet.run(cli::job_enter_command, outage.options("mount.depth", "240 mm"));
    INFO(said.text);
    CHECK(said.code == 2);
    CHECK(said.has("(denied)"));
    // The stage "safe" must be closed first: its first hold point is named by its title.
    auto const stage = read_json(text_of(source_file("checklists/02_safe.json")), "stage");
    REQUIRE(stage);
    bool named = said.has((*stage)["title"].get<std::string>());
    for (auto const& step : (*stage)["steps"])
        named = named || said.has(step["title"].get<std::string>());
    CHECK(named);
    CHECK(history(tablet, outage).text == before);
}

TEST_CASE("a value nobody can mean, an unknown step and an unknown outage are refused")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE_FALSE(outage.create().empty());
    auto const before = history(tablet, outage).text;
    CHECK(tablet.run(cli::job_enter_command, outage.options("joint.temperature", "12 bar")).code == 2);
    CHECK(tablet.run(cli::job_enter_command, outage.options("joint.colour", "red")).code == 2);
    CHECK(history(tablet, outage).text == before);
    cli::JobOptions other;
    other.job = "nowhere";
    for (auto* command : {cli::job_status_command, cli::job_history_command, cli::job_verify_command}) {
        auto const said = tablet.run(command, other);
        CHECK(said.code == 2);
        CHECK(said.has("nowhere"));
    }
}

TEST_CASE("what is mistyped is answered with what is near it, and a step that does not apply is said so")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE_FALSE(outage.create().empty());
    CHECK(tablet.run(cli::job_enter_command, outage.options("joint.temperatuer", "14 degC"))
              .has("joint.temperature"));
    CHECK(tablet.run(cli::job_enter_command, outage.options("prepare.nameplate", "smae")).has("Its answers: "));
    auto const nowhere = tablet.run(cli::job_history_command, outage.options("nowhere"));
    CHECK(nowhere.code == 2);
    CHECK(nowhere.has("there is no such step"));
    auto aside = outage.options("prepare.dc_float");
    CHECK(tablet.run(cli::job_not_applicable_command, aside).code == 2); // says why, or nothing
    aside.reason = "No battery in this bay";
    REQUIRE(tablet.run(cli::job_not_applicable_command, aside).code == 0);
    CHECK(step_of(status(tablet, outage), "prepare.dc_float")["status"] == "not applicable");
    CHECK(tablet.run(cli::job_not_applicable_command, aside).has("closed"));
}

TEST_CASE("commands are refused while another program has the store, and go on when it has let go")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE_FALSE(outage.create().empty());
    {
        // A lock belongs to an open store, not to a process: a second store in this one is refused alike.
        auto const held = journal::open_journal(tablet.places.data_folder());
        REQUIRE(held);
        auto const said = status(tablet, outage);
        CHECK(said.code == 2);
        CHECK(said.json()["error"]["code"] == "denied");
        CHECK(tablet.run(cli::job_enter_command, outage.options("prepare.dc_float", "131.4 V")).code == 2);
    }
    CHECK(status(tablet, outage).code == 0);
}

TEST_CASE("verify finds a store in which a byte of an entry was changed")
{
    Tablet tablet;
    DemoOutage outage(tablet);
    REQUIRE_FALSE(outage.create().empty());
    REQUIRE(outage.enter_until("prepare.trip_wiring") == "");
    REQUIRE(tablet.run(cli::job_verify_command, outage.options()).code == 0);
    CHECK(tablet.run(cli::job_verify_command, cli::JobOptions{}).code == 0);
    auto const file = tablet.places.data_folder() / "journal.db";
    REQUIRE_FALSE(std::filesystem::exists(tablet.places.data_folder() / "journal.db-wal"));
    auto text = text_of(file);
    auto const at = text.find("131.4 V");
    REQUIRE(at != std::string::npos);
    text[at] = '2';
    put(file, text);
    auto const said = tablet.run(cli::job_verify_command, outage.options());
    INFO(said.text);
    CHECK(said.code != 0);
    CHECK(said.has("(corrupt)"));
}
