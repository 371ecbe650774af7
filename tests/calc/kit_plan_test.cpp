#include "calc/part_library.h"
#include "ct_run.h"
#include <set>

using namespace isochore;
using namespace isochore::calc;

namespace {

double quantity(Answer const& a, std::string const& name)
{
    for (auto const& line : a.facts["kit"])
        if (line["name"] == name)
            return line["quantity"].get<double>();
    return 0.0;
}

} // namespace

TEST_CASE("kit.plan lists what the survey asks for", "[calc][kit]")
{
    auto const a = answered("kit.plan", R"({"window":"4 h","crew":2,"chain":["reduce-g12-g38","tee-g38",
        "sensor-density-g38"],"gas_mass":"3 kg","cylinder_mass":"2 kg","resistor":"18 kohm","resistor_power":"5 W",
        "fasteners":4,"fastener_size":"M6","current_circuits":3,"inputs":"2 pcs","wire":"28.2 m"})");
    CHECK(quantity(a, "Tee G 3/8, male, female, female") == 1.0);
    CHECK(quantity(a, "Resistor 18 kΩ, 5 W") == 2.0);
    CHECK(quantity(a, "Safety helmet") == 2.0);
    CHECK(quantity(a, "Bonded washers, one spare for each joint") == 6.0); // three joints, one spare each
    CHECK(quantity(a, "Clip-on pick-up coil") == 3.0);
    CHECK(quantity(a, "Gas") == Approx(3.75));     // a quarter more
    CHECK(quantity(a, "Cylinder of 2 kg") == 2.0); // 3.75 kg in cylinders of 1.9 kg usable
    CHECK(value_of(a, "cost") > 0.0);
}

TEST_CASE("seals and locking washers come in the sizes of the chain and of the bolts", "[calc][kit]")
{
    // Port to adapter G 1/2, adapter to run and run to sensor G 3/8: three joints, one washer and one spare
    // each.
    auto const plan = [](std::string const& port) {
        return answered("kit.plan", R"({"window":"4 h","crew":2,"port":")" + port +
                                        R"(","sensor":"sensor-density-g38","chain":["reduce-g12-g38","run"],
            "library":[{"id":"run","name":"Run","kind":"run","ends":["G 3/8 male","G 3/8 female"]}],
            "fasteners":4,"fastener_size":"M6"})");
    };
    auto const a = plan("G 1/2 female");
    CHECK(quantity(a, "Bonded washer, rubber in steel, G 1/2") == 2.0);
    CHECK(quantity(a, "Bonded washer, rubber in steel, G 3/8") == 4.0);
    CHECK(quantity(a, "Bonded washers, one spare for each joint") == 0.0);
    CHECK(quantity(a, "Lint-free wipes") == 12.0); // four a joint
    CHECK(quantity(a, "Locking washers M6") == 6.0);
    // A joint that does not seal has no seal to bring; the chain says why, the kit brings washers all the
    // same.
    auto const wrong = plan("G 1/4 female");
    CHECK(quantity(wrong, "Bonded washer, rubber in steel, G 3/8") == 4.0);
    CHECK(quantity(wrong, "Bonded washers, one spare for each joint") == 2.0);
    // A port nobody could name.
    CHECK(quantity(plan("some thread"), "Bonded washers, one spare for each joint") == 6.0);
    // Ties and screws take no locking washers.
    CHECK(quantity(answered("kit.plan", R"({"window":"4 h","fasteners":4,"fastener_kind":"tie_wrap"})"),
                   "Locking washers") == 0.0);
}

TEST_CASE("wire and lugs carry their sizes, and ties are counted along the runs", "[calc][kit]")
{
    auto const a =
        answered("kit.plan", R"({"window":"4 h","wires":{"current":"48 m","dc":"30 m","sensor":"9 m"},
        "run":"17 m","current_circuits":3,"inputs":2})");
    CHECK(quantity(a, "Wire for the current circuits, 2.5 mm²") == 48.0);
    CHECK(quantity(a, "Wire for the dc inputs, 1.5 mm²") == 30.0);
    CHECK(quantity(a, "Shielded wire for the sensor, 0.5 mm²") == 9.0);
    CHECK(quantity(a, "Ring lugs, 2.5 mm² for stud M5") == 9.0); // two a circuit, half as many spare
    CHECK(quantity(a, "Ferrules and lugs for the inputs, 1.5 mm² for stud M4") == 12.0);
    CHECK(quantity(a, "Cable ties") == 41.0);   // two a metre of 17 m and a fifth spare: 40.8
    CHECK(quantity(a, "Wire markers") == 53.0); // one on two metres of 87 m of conductor, a fifth spare: 52.2
    CHECK(quantity(answered("kit.plan", R"({"window":"4 h","wire":"87 m","run":"17 m"})"), "Wire") == 87.0);
    CHECK(quantity(answered("kit.plan", R"({"window":"4 h","wire":"87 m"})"), "Cable ties") == 0.0);
    CHECK(refused("kit.plan", R"({"window":"4 h","wires":{"copper":"1 m"}})").where == "inputs.wires.copper");
    CHECK(refused("kit.plan", R"({"window":"4 h","wires":{"dc":"-1 m"}})").where == "inputs.wires.dc");
    CHECK(refused("kit.plan", R"({"window":"4 h","run":"-1 m"})").where == "inputs.run");
}

TEST_CASE("the sizes of the kit's wires are sizes that are made, with where they are from", "[calc][kit]")
{
    // IEC 60228, class 1 and 2, nominal cross-sections in mm² (from memory); ISO 262 coarse threads (from
    // memory).
    std::set<std::string> const areas = {"0.5 mm²", "0.75 mm²", "1 mm²", "1.5 mm²",
                                         "2.5 mm²", "4 mm²",    "6 mm²"};
    std::set<std::string> const studs = {"", "M3", "M4", "M5", "M6", "M8"};
    std::set<std::string> ids;
    for (auto const& wire : kit_data()["wires"]) {
        CAPTURE(wire.dump());
        CHECK(ids.insert(wire["id"].get<std::string>()).second);
        CHECK(areas.contains(wire["cross_section"].get<std::string>()));
        CHECK(studs.contains(wire.value("stud", "")));
        CHECK_FALSE(wire["source"].get<std::string>().empty());
        CHECK(wire["confidence"] == "practice");
    }
    CHECK(ids.size() == 3);
    for (auto const& rule : kit_data()["rules"])
        if (rule.contains("wire"))
            CHECK(ids.contains(rule["wire"].get<std::string>()));
}

TEST_CASE("the usual stages take about three hours for two, and the gas work decides", "[calc][kit]")
{
    // Stage times: common practice, no source. Critical chain by hand: means 16.67 + 26.67 + 32.5 + 36.67
    // + 21.67 + 22.5 + 16.67 min.
    auto const a = answered("kit.plan", R"({"window":"2 h","crew":2,"common_spread":"0 %"})");
    CHECK(a.facts["critical_path"] == Json({"safe", "mount", "joint", "purge", "fill", "prove", "handback"}));
    CHECK(value_of(a, "duration") / 60.0 == Approx(173.33).epsilon(0.01));
    CHECK(value_of(a, "slack") == Approx(7200.0 - value_of(a, "duration")));
    CHECK(check_verdict(a, "window") == Verdict::fail);
    CHECK(a.checks.back().remedy.find("would do") != std::string::npos);
    auto const wide = answered("kit.plan", R"({"window":"5 h","crew":2})");
    CHECK(check_verdict(wide, "window") == Verdict::pass);
}

TEST_CASE("the window that the plan says would do does", "[calc][kit]")
{
    auto const a = answered("kit.plan", R"({"window":"2 h","crew":2})");
    double const needed = 7200.0 - value_of(a, "slack_at_wanted_chance");
    auto const b =
        answered("kit.plan", R"({"window":")" + std::to_string(needed + 60.0) + R"( s","crew":2})");
    CHECK(value_of(b, "chance") >= 0.9);
}

TEST_CASE("during the job what is done drops out and what is left is planned", "[calc][kit]")
{
    auto const a =
        answered("kit.plan", R"({"job":{"window":"3 h","crew":2,"done":["safe","mount"],"time_used":"50 min",
        "running":{"joint":"10 min"},"common_spread":"0 %"}})");
    CHECK(value_of(a, "time_left") == Approx(130 * 60.0));
    CHECK(a.facts["tasks"].size() == 8);
    // 22.5 (joint less 10 min) + 36.67 + 21.67 + 22.5 + 16.67 min.
    CHECK(value_of(a, "duration") / 60.0 == Approx(120.0).epsilon(0.02));
    CHECK(a.expected.front().value == Approx(value_of(a, "duration") + 3000.0));
    auto const all =
        answered("kit.plan", R"({"window":"1 h","tasks":[{"id":"a","minutes":[1,2,3]}],"done":["a"]})");
    CHECK(has_note(all, "Every task is done"));
}

TEST_CASE("instruments out of date on the day fail, unknown ones are undecided", "[calc][kit]")
{
    auto const a =
        answered("kit.plan", R"({"window":"9 h","today":"2026-11-25","job_day":"2026-12-03","instruments":[
        {"name":"gauge","calibration_due":"2027-01-01"},{"name":"scale","calibration_due":"2026-11-30"},
        {"name":"analyser"}]})");
    CHECK(check_verdict(a, "calibration gauge") == Verdict::pass);
    CHECK(check_verdict(a, "calibration scale") == Verdict::fail);
    CHECK(check_verdict(a, "calibration analyser") == Verdict::undecided);
    CHECK(refused("kit.plan", R"({"window":"9 h","today":"25/11/2026"})").where == "inputs.today");
}

TEST_CASE("kit.plan refuses circles, unknown needs, twice the same id and a window of nothing", "[calc][kit]")
{
    CHECK(refused("kit.plan", R"({"window":"0 h"})").where == "inputs.window");
    CHECK(refused("kit.plan", R"({"window":"1 h","tasks":[]})").where == "inputs.tasks");
    CHECK(refused("kit.plan", R"({"window":"1 h","tasks":[{"id":"a","minutes":[1,2,3],"needs":["b"]}]})")
              .code == Error::Code::unknown);
    CHECK(refused("kit.plan",
                  R"({"window":"1 h","tasks":[{"id":"a","minutes":[1,2,3]},{"id":"a","minutes":[1,2,3]}]})")
              .detail.find("twice") != std::string::npos);
    CHECK(refused("kit.plan", R"({"window":"1 h","tasks":[{"id":"a","minutes":[1,2,3],"needs":["b"]},
        {"id":"b","minutes":[1,2,3],"needs":["a"]}]})")
              .detail.find("circle") != std::string::npos);
    CHECK(refused("kit.plan", R"({"window":"1 h","tasks":[{"id":"a","minutes":[3,2,1]}]})").where ==
          "inputs.tasks[0]");
    CHECK(refused("kit.plan", R"({"window":"1 h","done":["nothing"]})").where == "inputs.done");
    CHECK(refused("kit.plan", R"({"window":"1 h","chain":["nothing"]})").where == "inputs.chain");
    CHECK(refused("kit.plan", R"({"job":{"window":"1 h","odd":1}})").where == "inputs.job.odd");
}

TEST_CASE("input.wiring prefers the coil, then a separate output, then nothing", "[calc][input]")
{
    auto const survey = [](std::string const& change) {
        Json base =
            Json::parse(R"({"dc_min":"105 V","dc_max":"140 V","input_resistance":"100 kohm","pick_up":"70 V",
            "drop_out":"40 V","coils":[{"supervision":"none","coil_resistance":"20 ohm"}],"spare_52b":true})");
        base.merge_patch(Json::parse(change));
        return base.dump();
    };
    CHECK(answered("input.wiring", survey("{}")).facts["trip_wiring"] == "parallel_with_coil");
    std::string const masked =
        R"({"input_resistance":"33 kohm","coils":[{"supervision":"relay","coil_resistance":"20 ohm",
        "supervision_resistance":"20 kohm","supervision_threshold":"2 mA"}])";
    auto const none = answered("input.wiring", survey(masked + "}"));
    CHECK(none.facts["trip_wiring"] == "none");
    CHECK(none.verdict() == Verdict::fail);
    auto const output = answered(
        "input.wiring", survey(masked + R"(,"spare_trip_output":true,"output_follows_every_path":true})"));
    CHECK(output.facts["trip_wiring"] == "separate_output");
    CHECK(output.facts["resistor_needed"] == true);
    CHECK(answered("input.wiring", survey(masked + R"(,"spare_trip_output":true})")).facts["trip_wiring"] ==
          "none");
    // Two coils and one input: a trip by the other coil would be missed.
    auto const two =
        answered("input.wiring", survey(R"({"coils":[{"supervision":"none","coil_resistance":"20 ohm"},
        {"supervision":"none","coil_resistance":"20 ohm"}]})"));
    CHECK(two.facts["trip_wiring"] == "none");
    CHECK(answered("input.wiring",
                   survey(R"({"trip_inputs":2,"coils":[{"supervision":"none","coil_resistance":"20 ohm"},
        {"supervision":"none","coil_resistance":"20 ohm"}]})"))
              .facts["trip_wiring"] == "parallel_with_coil");
}

TEST_CASE("input.wiring takes the lamp or a free 52b and asks for wetting in numbers", "[calc][input]")
{
    char const* base = R"({"dc_min":"105 V","dc_max":"140 V","input_resistance":"100 kohm","pick_up":"70 V",
        "drop_out":"40 V","coils":[{"supervision":"none","coil_resistance":"20 ohm"}])";
    CHECK(answered("input.wiring", std::string(base) + R"(,"lamp_resistance":"5 kohm"})")
              .facts["position_wiring"] == "parallel_with_lamp");
    auto const dry =
        answered("input.wiring", std::string(base) + R"(,"spare_52b":true,"wetting_current":"5 mA"})");
    CHECK(dry.facts["position_wiring"] == "wetted_52b");
    CHECK(check_verdict(dry, "position_wiring") == Verdict::undecided);
    // 105 V over what 5 mA leaves after the input's 1.05 mA: 26.6 k.
    CHECK(dry.checks.back().remedy.find("26.6 kohm") != std::string::npos);
    CHECK(check_verdict(answered("input.wiring", std::string(base) + "}"), "position_wiring") ==
          Verdict::fail);
    CHECK(refused("input.wiring", std::string(base) + R"(,"dc_min":"150 V"})").where == "inputs.dc_min");
    CHECK(refused("input.wiring", std::string(base) + R"(,"coils":[]})").where == "inputs.coils");
}
