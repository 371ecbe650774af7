#include "calc/registry.h"
#include "session/calibration.h"
#include "session/outage_parts.h"
#include "session/own_parts.h"
#include "session/plan.h"
#include "session/record_kit.h"
#include "session/record_steps.h"
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

TEST_CASE("a change of a part is a further revision and the earlier ones stay to be seen")
{
    Bench bench;
    REQUIRE(bench.workspace->add_part(fitting(), "N. Quill"));
    std::string const id = "own-adapter-with-filter";
    Json changed = fitting();
    changed["mass"] = "150 g";
    changed["source"] = "weighed";
    bench.clock.advance(3600.0);
    REQUIRE(bench.workspace->revise_part(id, changed, "I. Brandt"));
    auto const same = bench.workspace->revise_part(id, changed, "I. Brandt");
    REQUIRE_FALSE(same);
    CHECK(same.error().detail == "nothing was changed");
    Json bad = changed;
    bad["mass"] = "-1 g";
    auto const refused = bench.workspace->revise_part(id, bad, "I. Brandt");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().where == "mass");
    CHECK_FALSE(bench.workspace->revise_part("own-nothing", changed, ""));

    bench.reopen();
    auto const& own = bench.workspace->own_parts();
    CHECK(own.faults.empty());
    REQUIRE(own.parts.size() == 1);
    CHECK(text_member(own.parts[0], "mass") == "150 g");
    Json const revisions = own.revisions(id);
    REQUIRE(revisions.size() == 2);
    CHECK(text_member(revisions[0], "mass") == "130 g");
    CHECK(text_member(revisions[0], "by") == "N. Quill");
    CHECK(text_member(revisions[1], "by") == "I. Brandt");
    CHECK(revision_of(revisions[1]) == 2);
    CHECK(text_member(revisions[0], "at") < text_member(revisions[1], "at"));
}

TEST_CASE("a withdrawn part is kept with its reason, is offered no more, and can come back")
{
    Bench bench;
    REQUIRE(bench.workspace->add_part(fitting()));
    std::string const id = "own-adapter-with-filter";
    auto const silent = bench.workspace->withdraw_part(id, "  ", "N. Quill");
    REQUIRE_FALSE(silent);
    CHECK(silent.error().where == "reason");
    REQUIRE(bench.workspace->withdraw_part(id, "the filter clogs", "N. Quill"));
    CHECK_FALSE(bench.workspace->withdraw_part(id, "again", "N. Quill"));
    CHECK_FALSE(bench.workspace->revise_part(id, fitting(), "N. Quill"));
    bench.reopen();
    CHECK(bench.workspace->own_parts().parts.empty());
    Json const kept = bench.workspace->own_parts().revisions(id);
    REQUIRE(kept.size() == 2);
    CHECK(is_withdrawn(kept[1]));
    CHECK(text_member(kept[1], "reason") == "the filter clogs");
    auto outage = bench.begin();
    auto const answers = answers_of(outage->context(), *outage->checklists().step("prepare.adapter"));
    CHECK(std::none_of(answers.begin(), answers.end(), [&](auto const& a) { return a.id == id; }));

    REQUIRE(bench.workspace->add_part(fitting()));
    CHECK(bench.workspace->own_parts().parts.size() == 1);
    CHECK(revision_of(bench.workspace->own_parts().parts[0]) == 3);
    CHECK_FALSE(is_withdrawn(bench.workspace->own_parts().parts[0]));
}

TEST_CASE("a part that an open outage uses is not changed or withdrawn under it")
{
    Bench bench;
    REQUIRE(bench.workspace->add_part(fitting(), "N. Quill"));
    std::string const id = "own-adapter-with-filter";
    auto outage = bench.begin();
    auto const length_here = [&] {
        for (auto const& part : *outage->context().parts)
            if (text_member(part, "id") == id)
                return text_member(part, "length");
        return std::string("gone");
    };
    auto const follow = [&] { outage->set_parts(parts_in(*outage, bench.workspace->own_parts().parts)); };
    Json longer = fitting();
    longer["length"] = "60 mm";
    REQUIRE(bench.workspace->revise_part(id, longer, "I. Brandt"));
    follow();
    CHECK(length_here() == "60 mm"); // not used yet: the newest

    for (auto const& [step, answer] :
         std::vector<std::pair<char const*, char const*>>{{"prepare.coils", "two_supervised"}})
        static_cast<void>(outage->record_answer(step, answer));
    auto const* adapter = outage->checklists().step("prepare.adapter");
    REQUIRE(adapter);
    REQUIRE(take_used_parts(*outage, *adapter, id));
    REQUIRE(take_used_parts(*outage, *adapter, id)); // taken once only
    CHECK(taken_parts(*outage).size() == 1);
    CHECK(std::count_if(outage->bodies().begin(), outage->bodies().end(),
                        [](auto const& b) { return text_member(b, "type") == "part"; }) == 1);
    longer["length"] = "90 mm";
    REQUIRE(bench.workspace->revise_part(id, longer, "I. Brandt"));
    follow();
    CHECK(length_here() == "60 mm");
    REQUIRE(bench.workspace->withdraw_part(id, "too long", "I. Brandt"));
    follow();
    CHECK(length_here() == "60 mm");
    std::string const job = outage->job();
    outage.reset();
    bench.reopen();
    outage = bench.resume(job);
    CHECK(length_here() == "60 mm");
    CHECK(outage->state().remarks.empty()); // the entry is understood

    REQUIRE(take_part(*outage, bench.workspace->own_parts().revisions(id)[2]));
    follow();
    CHECK(length_here() == "90 mm");
}

TEST_CASE("a spare that the recorded plan counts stays as it was, and a newer one opens the plan again")
{
    Bench bench;
    Json spare{
        {"group", "spare"},      {"name", "Fuse 4 A"},         {"per", "job"}, {"each", "2"}, {"cost", "1.5"},
        {"source", "catalogue"}, {"confidence", "unconfirmed"}};
    REQUIRE(bench.workspace->add_part(spare));
    auto outage = bench.begin();
    auto const* step = plan_step(outage->checklists());
    REQUIRE(step);
    REQUIRE(take_used_parts(*outage, *step, {}));
    CHECK(taken_parts(*outage).contains("own-fuse-4-a"));
    spare["each"] = "5";
    REQUIRE(bench.workspace->revise_part("own-fuse-4-a", spare, ""));
    outage->set_parts(parts_in(*outage, bench.workspace->own_parts().parts));
    auto const quantity = [&] {
        auto const plan = survey_plan(*outage);
        REQUIRE(plan);
        for (auto const& item : member(plan->facts, "kit"))
            if (text_member(item, "name") == "Fuse 4 A")
                return number_member(item, "quantity");
        return -1.0;
    };
    CHECK(quantity() == 2.0);
    REQUIRE(take_part(*outage, bench.workspace->own_parts().parts[0]));
    outage->set_parts(parts_in(*outage, bench.workspace->own_parts().parts));
    CHECK(quantity() == 5.0);
}

TEST_CASE("an instrument past its date is called out at the reading, in the working and in the record")
{
    Bench bench; // its clock stands in March 2026
    auto outage = bench.begin();
    auto const* reading = outage->checklists().step("prepare.dc_float");
    REQUIRE(reading);
    CHECK(evaluate_value(outage->context(), *reading, "130 V").reason.find("calibration") ==
          std::string::npos);
    REQUIRE(outage->note({{"type", "calibration"}, {"instrument", "Multimeter"}, {"due", "2026-02-28"}}));
    REQUIRE(outage->note({{"type", "in_hand"}, {"part", "Multimeter"}, {"in_hand", true}}));
    CHECK(evaluate_value(outage->context(), *reading, "130 V")
              .reason.find("Multimeter is past its calibration date (2026-02-28)") != std::string::npos);
    REQUIRE(outage->record_value("prepare.dc_float", "130 V", true));

    auto const past = past_instrument_deviations(*outage);
    REQUIRE(past.size() == 1);
    CHECK(past[0].step == reading->title);
    CHECK(past[0].who == "N. Quill");
    auto const kit = kit_table(*outage, {});
    REQUIRE(kit.rows.size() >= 1);
    auto const row =
        std::find_if(kit.rows.begin(), kit.rows.end(), [](auto const& r) { return r[0] == "Multimeter"; });
    REQUIRE(row != kit.rows.end());
    CHECK((*row)[1].find("yes: N. Quill, ") == 0);
    CHECK((*row)[2] == "PAST: 2026-02-28");
    CHECK((*row)[3].find("N. Quill, ") == 0);
    bool row_says = false;
    for (auto const& stage : record_stages(*outage, {}))
        for (auto const& line : stage.steps)
            row_says = row_says || line.instrument.find("PAST ITS CALIBRATION DATE") != std::string::npos;
    CHECK(row_says);

    // A calculation says it too, for every reading it takes from that instrument.
    for (auto const& stage : outage->checklists().stages)
        for (auto const& step : stage.steps) {
            if (!step.call || step.call->inputs_json.find("step:prepare.dc_float") == std::string::npos)
                continue;
            auto const behind = past_instruments(outage->context(), step);
            CAPTURE(step.id);
            CHECK(std::any_of(behind.begin(), behind.end(),
                              [](auto const& u) { return u.name == "Multimeter"; }));
        }
}

TEST_CASE("an instrument in date, or used before its date, is not called out")
{
    Bench bench;
    auto outage = bench.begin();
    auto const* reading = outage->checklists().step("prepare.dc_float");
    REQUIRE(outage->note({{"type", "calibration"}, {"instrument", "Multimeter"}, {"due", "2026-03-02"}}));
    CHECK(past_instruments(outage->context(), *reading).empty()); // the day itself still counts
    REQUIRE(outage->record_value("prepare.dc_float", "130 V", true));
    bench.clock.advance(30 * 86400.0);
    REQUIRE(outage->note({{"type", "remark"}, {"text", "a month later"}}));
    CHECK(past_instrument_deviations(*outage).empty()); // it was in date when it was read
}

TEST_CASE(
    "every instrument that a step reads with has a calibration date in the kit, or is known to have none")
{
    // What a crew reads with but nobody calibrates by date, and the unit, which is what is being proven.
    std::set<std::string> const undated{"rule",
                                        "tape",
                                        "tape or drawing",
                                        "pitch gauge",
                                        "unit under proof",
                                        "injection set or control room"};
    Bench bench;
    auto outage = bench.begin();
    int dated = 0;
    for (auto const& stage : outage->checklists().stages)
        for (auto const& step : stage.steps)
            for (std::size_t at = 0; at < step.instrument.size();) {
                std::size_t const comma = std::min(step.instrument.find(", ", at), step.instrument.size());
                model::Step alone = step;
                alone.instrument = step.instrument.substr(at, comma - at);
                at = comma + 2;
                CAPTURE(step.id, alone.instrument);
                bool const known = !instruments_of(outage->context(), alone, "2026-03-02").empty();
                CHECK(known != undated.contains(alone.instrument));
                dated += known;
            }
    CHECK(dated > 0);
}

TEST_CASE("barometer, scale, vacuum gauge, low-resistance meter and calliper past their date are called out "
          "where they are read")
{
    struct Case {
        char const *instrument, *step, *value;
    };
    auto const c = GENERATE(values<Case>({{"Barometer", "joint.barometer", "1004 hPa abs"},
                                          {"Cylinder scale", "fill.scale_limit", "0.02 kg"},
                                          {"Cylinder scale", "fill.cylinder_before", "61.2 kg"},
                                          {"Vacuum gauge of the cart", "joint.recovered", "12 mbar abs"},
                                          {"Low-resistance meter", "mount.earth", "12 mohm"},
                                          {"Calliper", "prepare.port_diameter", "20.9 mm"}}));
    CAPTURE(c.instrument, c.step);
    Bench bench; // its clock stands in March 2026
    auto outage = bench.begin();
    auto const* step = outage->checklists().step(c.step);
    REQUIRE(step);
    auto const said = [&] {
        auto const evaluation = evaluate_value(outage->context(), *step, c.value);
        REQUIRE(evaluation.ok());
        return evaluation.reason;
    };
    CHECK(said().find("calibration") == std::string::npos);
    REQUIRE(outage->note({{"type", "calibration"}, {"instrument", c.instrument}, {"due", "2026-03-02"}}));
    CHECK(said().find("calibration") == std::string::npos); // the day itself still counts
    REQUIRE(outage->note({{"type", "calibration"}, {"instrument", c.instrument}, {"due", "2026-03-01"}}));
    CHECK(said().find(std::string(c.instrument) + " is past its calibration date (2026-03-01)") !=
          std::string::npos);
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
