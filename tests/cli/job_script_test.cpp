#include "cli/commands.h"
#include "cli_support.h"
#include "support/script_clock.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace cli_test;

namespace {

constexpr char const* job = "AF-Q07-112";

/// The whole demo outage as job commands, with a file to attach.
std::string demo_script(std::filesystem::path const& folder)
{
    put(folder / "photo.txt", "as good as a photo");
    return replaced(text_of(source_file("tests/rehearsals/whole_outage.job")), "@FILE@",
                    (folder / "photo.txt").string());
}

Said run_script(Tablet const& tablet, std::string const& script,
                std::string const& clock = "2026-03-02T08:00:00Z")
{
    put(tablet.folder / "script.job", script);
    cli::JobOptions o;
    o.file = (tablet.folder / "script.job").string();
    o.clock = clock;
    return tablet.run(cli::job_script_command, o);
}

Said status(Tablet const& tablet)
{
    cli::JobOptions o;
    o.job = job;
    o.json = true;
    return tablet.run(cli::job_status_command, o);
}

} // namespace

TEST_CASE(
    "the whole demo outage entered by script twice gives the same state and the same store, byte for byte")
{
    std::string state, store;
    for (int time = 0; time < 2; ++time) {
        Tablet const tablet;
        auto const said = run_script(tablet, demo_script(tablet.folder.path()));
        if (said.code != 0)
            FAIL(said.text);
        auto const now = status(tablet);
        REQUIRE(now.code == 0);
        CHECK(now.json()["next"] == "handback.review"); // all else is closed or put off
        CHECK(now.json()["entries"].get<int>() > 100);
        cli::JobOptions o;
        o.file = (tablet.folder / "copy.db").string();
        REQUIRE(tablet.run(cli::job_export_command, o).code == 0);
        auto const bytes = text_of(o.file);
        REQUIRE(bytes.size() > 100000);
        if (time == 0) {
            state = now.text;
            store = bytes;
        } else {
            CHECK(now.text == state);
            CHECK((bytes == store)); // not printed when they differ
        }
    }
}

TEST_CASE("one value entered otherwise gives another store")
{
    auto const head = [](std::string const& typed) {
        Tablet const tablet;
        auto const script = demo_script(tablet.folder.path());
        REQUIRE(run_script(tablet, replaced(script, "'131.4 V'", typed)).code == 0);
        return status(tablet).json()["head"].get<std::string>();
    };
    CHECK(head("'131.4 V'") != head("'131.40 V'"));
}

TEST_CASE("the outage entered from a script stands as the one entered command by command")
{
    Tablet const at_once, one_by_one;
    auto const script = demo_script(at_once.folder.path());
    REQUIRE(run_script(at_once, script).code == 0);
    std::istringstream lines(script);
    std::string part;
    test::ScriptClock clock;
    std::string begins = clock.text();
    int n = 0;
    for (std::string line; std::getline(lines, line);) {
        part += line + "\n";
        clock.pass(line);
        if (++n % 40 == 0) { // the store closed and opened again in between
            auto const said = run_script(one_by_one, part, begins);
            if (said.code != 0)
                FAIL(said.text);
            part.clear();
            begins = clock.text();
        }
    }
    REQUIRE(run_script(one_by_one, part, begins).code == 0);
    auto const a = status(at_once).json(), b = status(one_by_one).json();
    // Each part is a run of its own, so the hashes differ; what stands does not.
    CHECK(a["steps"] == b["steps"]);
    CHECK(a["next"] == b["next"]);
    CHECK(a["entries"] == b["entries"]);
}

TEST_CASE("a script stops at the first line that is refused, names it, and keeps what came before")
{
    Tablet const tablet;
    auto const begin = "create --profile kd-41 --crew N --fact station=A --fact bay=B --fact serial=C "
                       "--fact job_no=AF-Q07-112 --fact 'window=2 h'\n";
    auto const said =
        run_script(tablet, std::string(begin) + "# a comment\n\nenter AF-Q07-112 joint.temperature "
                                                "'14.2 degC'\nenter AF-Q07-112 safe.dead dead\n"
                                                "enter AF-Q07-112 joint.barometer '1013 hPa'\n");
    CHECK(said.code == 2);
    CHECK(said.has("Opens when"));
    CHECK(said.has("Stopped at line 5: enter AF-Q07-112 safe.dead dead"));
    CHECK(status(tablet).json()["entries"] == 2);
    for (char const* line : {"later soon", "later -5", "script x", "fly away", "enter", "enter \"unclosed"}) {
        CAPTURE(line);
        CHECK(run_script(tablet, std::string(line) + "\n").code == 2);
    }
    CHECK(run_script(tablet, "list\n", "yesterday").code == 2);
    CHECK(run_script(tablet, "later 5\n", "").code == 2); // time runs by itself
}

TEST_CASE("after a break of more than 15 minutes nothing is entered before the last physical step is confirmed")
{
    Tablet const tablet;
    std::string const begin =
        "create --profile kd-41 --crew N --crew M --fact station=A --fact bay=B --fact serial=C "
        "--fact job_no=AF-Q07-112 --fact 'window=2 h'\n"
        "enter AF-Q07-112 safe.briefing held --reader N --doer M\n"
        "enter AF-Q07-112 safe.isolated locked --reader N --doer M\n";
    auto const refused = run_script(tablet, begin + "later 840\nstatus AF-Q07-112\nlater 61\nstatus AF-Q07-112\n"
                                                    "enter AF-Q07-112 safe.dead dead\n");
    CHECK(refused.code == 2);
    CHECK(refused.has("Stopped at line 8"));
    auto const asked = refused.text.find("Look again: \"Open and lock both sides\"");
    REQUIRE(asked != std::string::npos);
    CHECK(asked > refused.text.find("Line 5 done")); // not after 14 minutes
    CHECK(status(tablet).json()["look_again"] == "safe.isolated");
    auto const entries = status(tablet).json()["entries"].get<int>();
    auto const confirmed = run_script(tablet,
                                      "confirm AF-Q07-112 --who M\nenter AF-Q07-112 safe.dead dead\n"
                                      "confirm AF-Q07-112\n",
                                      "2026-03-02T08:20:00Z");
    CHECK(confirmed.has("safe.isolated: still so"));
    CHECK(confirmed.has("Line 2 done"));
    CHECK(confirmed.has("nothing has to be looked at again")); // and is refused, since it says nothing
    CHECK(status(tablet).json()["entries"] == entries + 2);
}

TEST_CASE("an outage is archived and taken out by command, and moved only when a person confirms it")
{
    Tablet tablet;
    tablet.places.share = (tablet.folder / "share").string();
    std::filesystem::create_directories(tablet.folder / "share");
    for (char const* name : {"checklists", "profiles"})
        std::filesystem::copy(source_file(name), tablet.folder / "share" / name,
                              std::filesystem::copy_options::recursive);
    REQUIRE(run_script(tablet,
                       "create --profile kd-41 --crew N --fact station=A --fact bay=B --fact serial=C "
                       "--fact job_no=AF-Q07-112 --fact 'window=2 h'\n"
                       "enter AF-Q07-112 prepare.dc_float '131.4 V'\n")
                .code == 0);
    cli::JobOptions o;
    o.job = job;
    CHECK(tablet.run(cli::job_move_command, o).has("newest checklists and profile already"));
    auto const file = tablet.folder / "share/profiles/kd-41.json";
    auto text = replaced(text_of(file), "\"revision\": 1,", "\"revision\": 2,");
    text = replaced(text, "\"dc_max\": { \"value\": \"140 V\"", "\"dc_max\": { \"value\": \"135 V\"");
    REQUIRE_FALSE(text.empty());
    put(file, text);
    auto const asked = tablet.run(cli::job_move_command, o);
    CHECK(asked.code == 0);
    CHECK(asked.has("at most 140 V → at least 70 V, at most 135 V"));
    CHECK(asked.has("Opens again: Measure the dc supply"));
    CHECK(asked.has("Nothing is moved yet"));
    CHECK(status(tablet).json()["entries"] == 2);
    o.by = "R. Marsh";
    CHECK(tablet.run(cli::job_move_command, o).has("Moved, confirmed by R. Marsh"));
    CHECK(status(tablet).json()["revision"].get<std::string>().find("revision 2") != std::string::npos);
    CHECK(tablet.run(cli::job_status_command, o).has("Moved from profile kd-41 revision 1"));
    REQUIRE(tablet.run(cli::job_archive_command, o).code == 0);
    CHECK(tablet.run(cli::job_archive_command, o).code == 2);
    CHECK(tablet.run(cli::job_list_command, o).has("archived"));
    cli::JobOptions enter = o;
    enter.step = "joint.temperature";
    enter.value = "14 degC";
    CHECK(tablet.run(cli::job_enter_command, enter).has("archived"));
    REQUIRE(tablet.run(cli::job_unarchive_command, o).code == 0);
    CHECK(tablet.run(cli::job_enter_command, enter).code == 0);
}
