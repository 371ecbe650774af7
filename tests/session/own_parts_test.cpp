#include "calc/registry.h"
#include "session/own_parts.h"
#include "session/plan.h"
#include "session_support.h"
#include "json/member.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <set>

using namespace isochore;
using namespace isochore::session;

namespace {

Json fitting()
{
    return {{"group", "fitting"},   {"name", "Adapter with filter"},
            {"kind", "adapter"},    {"ends", {"G 1/2 male", "G 3/8 female"}},
            {"length", "41 mm"},    {"bore", "8 mm"},
            {"mass", "130 g"},      {"cost", "33"},
            {"source", "workshop"}, {"confidence", "confirmed"}};
}

std::set<std::string> faulty_fields(Json const& part)
{
    std::set<std::string> fields;
    for (auto const& fault : check_own_part(part, Json::array())) {
        CHECK_FALSE(fault.detail.empty());
        fields.insert(fault.field);
    }
    return fields;
}

} // namespace

TEST_CASE("every fault of a part is named at its own field, not only the first")
{
    CHECK(faulty_fields(fitting()).empty());
    Json bad = fitting();
    bad["name"] = "  ";
    bad["ends"] = {"G 5/8 male", "G 3/8"};
    bad["length"] = "41";
    bad["mass"] = "-130 g";
    bad["max_pressure"] = "0 bar";
    bad["cost"] = "cheap";
    bad["confidence"] = "sure";
    bad.erase("source");
    bad.erase("bore");
    CHECK(faulty_fields(bad) == std::set<std::string>{"name", "end1", "end2", "length", "mass",
                                                      "max_pressure", "cost", "confidence", "source",
                                                      "volume"});
    CHECK(faulty_fields({{"group", "spare"}, {"name", "Fuse"}, {"per", "lorry"}, {"each", "0"}}) ==
          std::set<std::string>{"per", "each", "source", "confidence"});
    CHECK(faulty_fields({{"group", "pump"}}).contains("group"));
}

TEST_CASE("an added part is on disk, comes back after a restart and is used by chain, answers and kit")
{
    Bench bench;
    REQUIRE(bench.workspace->add_part(fitting()));
    REQUIRE(bench.workspace->add_part({{"group", "spare"},
                                       {"name", "Fuse 4 A"},
                                       {"per", "input"},
                                       {"each", "2"},
                                       {"cost", "1.5"},
                                       {"source", "catalogue"},
                                       {"confidence", "unconfirmed"}}));
    auto const again = bench.workspace->add_part(fitting());
    REQUIRE_FALSE(again);
    CHECK(again.error().where == "name");
    bench.reopen();
    REQUIRE(bench.workspace->own_parts().parts.size() == 2);
    auto outage = bench.begin();
    auto const answers = answers_of(outage->context(), *outage->checklists().step("prepare.adapter"));
    CHECK(std::any_of(answers.begin(), answers.end(),
                      [](auto const& a) { return a.id == "own-adapter-with-filter"; }));
    auto const chain =
        calc::run("fitting.chain", {{"library", own_fittings(bench.workspace->own_parts().parts)},
                                    {"port", "G 1/2 female"},
                                    {"parts", {"own-adapter-with-filter"}},
                                    {"sensor", "sensor-density-g38"}});
    REQUIRE(chain);
    CHECK(chain->verdict() == calc::Verdict::pass);
    auto const plan = survey_plan(*outage);
    REQUIRE(plan);
    bool found = false;
    for (auto const& item : member(plan->facts, "kit"))
        if (text_member(item, "name") == "Fuse 4 A") {
            found = true;
            CHECK(number_member(item, "quantity") == 4.0); // two for each of two inputs
            CHECK(number_member(item, "cost") == 6.0);
        }
    CHECK(found);
}

TEST_CASE("a broken file of a part is named and the others still serve")
{
    Bench bench;
    REQUIRE(bench.workspace->add_part(fitting()));
    std::ofstream(bench.folder / "parts" / "own-broken.json") << "{\"group\": \"fitting\"";
    std::ofstream(bench.folder / "parts" / "own-empty.json") << "{}";
    bench.reopen();
    auto const& own = bench.workspace->own_parts();
    CHECK(own.parts.size() == 1);
    CHECK(std::any_of(own.faults.begin(), own.faults.end(),
                      [](auto const& f) { return f.find("own-broken.json") != std::string::npos; }));
    CHECK(std::any_of(own.faults.begin(), own.faults.end(),
                      [](auto const& f) { return f.find("own-empty.json") != std::string::npos; }));
}

TEST_CASE("the window runs from the first work inside it, not from the preparing")
{
    Bench bench;
    auto outage = bench.begin();
    LivePlan live;
    REQUIRE(outage->record_answer("prepare.coils", "two_supervised"));
    bench.clock.advance(3 * 86400.0); // days of preparing take none of the window
    auto before = live.now(*outage);
    REQUIRE(before);
    CHECK_FALSE(before->in_window);
    CHECK(before->used_s == 0.0);
    CHECK(before->window_s == 7200.0);
    // Two people in two hours: far from certain, as the planning values have it.
    CHECK(before->chance < 0.5);
    CHECK(before->slack_s() < 0.0);
    REQUIRE(before->last_start_in_s);

    REQUIRE(outage->record_answer("safe.briefing", "held", "N. Quill", "I. Brandt"));
    bench.clock.advance(600.0);
    auto const inside = live.now(*outage);
    REQUIRE(inside);
    CHECK(inside->in_window);
    CHECK(inside->used_s == Approx(600.0));
    CHECK(inside->remaining_s < before->remaining_s); // one step fewer
    bench.clock.advance(7200.0);
    auto const over = live.now(*outage);
    REQUIRE(over);
    CHECK(over->left_s == Approx(-600.0));
    CHECK(over->chance == 0.0);
    REQUIRE(over->last_start_in_s);
    CHECK(*over->last_start_in_s < 0.0);
}

TEST_CASE("what is in hand and when an instrument is due are entries that survive a restart")
{
    Bench bench;
    auto outage = bench.begin();
    REQUIRE(outage->note({{"type", "in_hand"}, {"part", "Clamp meter"}, {"in_hand", true}}));
    REQUIRE(outage->note({{"type", "in_hand"}, {"part", "Multimeter"}, {"in_hand", true}}));
    REQUIRE(outage->note({{"type", "in_hand"}, {"part", "Multimeter"}, {"in_hand", false}}));
    REQUIRE(outage->note({{"type", "calibration"}, {"instrument", "Clamp meter"}, {"due", "2020-01-31"}}));
    std::string const job = outage->job();
    outage.reset();
    bench.reopen();
    outage = bench.resume(job);
    CHECK(outage->state().in_hand == std::set<std::string>{"Clamp meter"});
    CHECK(outage->state().remarks.empty());
    auto const plan = survey_plan(*outage);
    REQUIRE(plan);
    CHECK(std::any_of(plan->checks.begin(), plan->checks.end(), [](auto const& c) {
        return c.verdict == calc::Verdict::fail && c.text.find("Clamp meter") != std::string::npos &&
               c.text.find("expired") != std::string::npos;
    }));
}

TEST_CASE("what cannot be is refused at the step that takes it, with what to do")
{
    Bench bench;
    auto outage = bench.begin();
    auto const problem = [&](char const* step, char const* typed) {
        return evaluate_value(outage->context(), *outage->checklists().step(step), typed).problem;
    };
    CHECK(problem("currents.tap_secondary", "0 A").find("not possible") != std::string::npos);
    CHECK(problem("mount.depth", "-5 mm").find("not possible") != std::string::npos);
    CHECK(problem("prepare.output_rating", "0 mA").find("not possible") != std::string::npos);
    CHECK(problem("prepare.port_diameter", "twenty").find("twenty") != std::string::npos);
    // What only several values together show is refused by the calculation behind the step.
    for (auto const& [calc, inputs, word] : std::vector<std::tuple<char const*, Json, char const*>>{
             {"ct.ratio", {{"primary", "5 A"}, {"secondary", "1200 A"}}, "swapped"},
             {"ct.ratio", {{"primary", "1200 A"}, {"secondary", "0 A"}}, "secondary"},
             {"input.wiring",
              {{"trip_circuit", "one"},
               {"coil_resistance", "20 ohm"},
               {"dc_min", "70 V"},
               {"dc_max", "140 V"},
               {"input_resistance", "33 kohm"},
               {"pick_up", "40 V"},
               {"drop_out", "60 V"}},
              "swapped"},
             {"input.wiring",
              {{"trip_circuit", "one"},
               {"coil_resistance", "20 ohm"},
               {"dc_min", "140 V"},
               {"dc_max", "70 V"},
               {"input_resistance", "33 kohm"},
               {"pick_up", "60 V"},
               {"drop_out", "40 V"}},
              "swapped"}}) {
        auto const answer = calc::run(calc, inputs);
        REQUIRE_FALSE(answer);
        CAPTURE(answer.error().detail);
        CHECK(answer.error().detail.find(word) != std::string::npos);
    }
}
