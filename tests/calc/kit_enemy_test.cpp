#include "ct_run.h"
#include <random>

using namespace isochore;
using namespace isochore::calc;

namespace {

/// A good line of every electrical, mechanical and planning calculation.
std::vector<std::pair<std::string, Json>> good_lines()
{
    std::vector<std::pair<std::string, Json>> lines;
    auto const add = [&](char const* name, char const* inputs) {
        lines.emplace_back(name, Json::parse(inputs));
    };
    add("ct.ratio",
        R"({"primary":"1200 A","secondary":"5 A","aux_primary":"5 A","aux_secondary":"1 A","turns":2,
        "delta":true,"load_current":"100 A"})");
    add("ct.taps", R"({"full_ratio":"2000:5"})");
    add("ct.taps", R"({"segments":[10,20,30],"secondary":"1 A"})");
    add("ct.load_check", R"({"full_ratio":"2000:5","terminals":"X1-X3","primary_current":"600 A",
        "secondary_reading":"2.5 A","turns":1,"tolerance":"5 %","uncertainties":{"floor":"1 mA"}})");
    add("ct.phases",
        R"({"phase_a":"2.5 A","phase_b":"2.4 A","phase_c":"2.5 A","sum":"0.1 A","u_reading":"1 %",
        "u_floor":"10 mA","u_angle":"2 deg","unbalance":"20 %"})");
    add("input.resistor",
        R"({"dc_nominal":"125 V","dc_min":"105 V","dc_max":"140 V","input_resistance":"100 kohm",
        "pick_up":"60 V","drop_out":"40 V","noise":{"leakage_current":"1 mA","cable_length":"15 m",
        "capacitance_per_length":"0.3 nF/m","coupled_voltage":"20 V","frequency":"60 Hz"},"wetting_current":"5 mA",
        "contact_breaking_current":"200 mA","derating":"50 %","max_timing_error":"0.5 ms","power_rating":"5 W",
        "series":"E12","resistance":"18 kohm","voltage_rating":"350 V"})");
    add("input.supervision",
        R"({"dc_max":"140 V","supervision_resistance":"20 kohm","supervision_threshold":"2 mA",
        "coil_resistance":"20 ohm","input_resistance":"33 kohm","pick_up":"70 V","bypass_resistance":"1 kohm","dc_min":"100 V",
        "uncertainties":{"dc_max":"1 %","coil_resistance":{"limit":"2 ohm"}}})");
    add("input.wiring", R"({"dc_min":"105 V","dc_max":"140 V","input_resistance":"33 kohm","pick_up":"70 V",
        "drop_out":"40 V","coils":[{"supervision":"relay","coil_resistance":"20 ohm","supervision_resistance":"20 kohm",
        "supervision_threshold":"2 mA"}],"spare_52b":true,"wetting_current":"5 mA"})");
    add("sensor.loop",
        R"({"quantity":"pressure","range_low":"0 bar g","range_high":"10 bar g","current":"12 mA",
        "warn":"5.5 bar g","lockout":"5 bar g","reference_value":"6 bar abs","u_reference":"1 kPa","u_sensor":"1 kPa"})");
    add("mount.fasteners",
        R"({"count":4,"size":"M5","grade":"8.8","mass":"5 kg","shock":"15 g","standoff":"60 mm",
        "spacing":"200 mm"})");
    add("mount.clearance", R"({"depth_available":"250 mm","depth_tolerance":"2 mm","parts":[{"name":"unit",
        "size":"120 mm","tolerance":"1 mm"}],"min_clearance":"5 mm"})");
    add("mount.sightline",
        R"({"window":"100 mm","display":"160 mm","gap":"60 mm","eye_distance":"500 mm","offset":"5 mm"})");
    add("mount.cables", R"({"runs":[{"name":"CT","route":"4 m","conductors":6,"reach":"5 m"}]})");
    add("fitting.chain",
        R"({"port":"G 1/2 female","parts":["reduce-g12-g38",{"part":"elbow-g38","towards":"down",
        "seal":"bonded_washer","seal_material":"EPDM"},{"part":"tee-g38","closed_by":["plug-g38"]}],
        "sensor":"sensor-density-g38","door_clearance":"150 mm","working_pressure":"0.7 MPa abs"})");
    add("fitting.identify",
        R"({"major_diameter":"20.9 mm","threads_per_inch":"14","second_diameter":"20.3 mm",
        "distance":"10 mm","flank_angle":"60 deg"})");
    add("timing.limits", R"({"interrupting_cycles":"3 cycles","frequency":"60 Hz","tolerance":"10 %"})");
    add("kit.plan", R"({"window":"4 h","crew":2,"chain":["tee-g38"],"gas_mass":"3 kg","cylinder_mass":"10 kg",
        "tasks":[{"id":"a","minutes":[1,2,3]},{"id":"b","minutes":[1,2,3],"needs":["a"],"people":2}],"done":["a"]})");
    return lines;
}

std::vector<Json> const& poisons()
{
    static std::vector<Json> const all{nullptr,
                                       true,
                                       -1,
                                       0,
                                       1e300,
                                       "",
                                       "0",
                                       "-1",
                                       "NaN",
                                       "0 A",
                                       "-5 V",
                                       "1e308 m",
                                       "1e-308 ohm",
                                       "5 bananas",
                                       "\xc3\xa9",
                                       Json::array(),
                                       Json::object(),
                                       Json::array({Json::array(), 1, "x"}),
                                       "0 bar",
                                       "1 bar abs",
                                       "1e400 kg",
                                       "X5-X1",
                                       "G 1/2",
                                       99999999999999ll,
                                       "0 min",
                                       "3 turns"};
    return all;
}

void all_finite(Json const& j, std::string const& where)
{
    if (j.is_number_float()) {
        CAPTURE(where);
        CHECK(std::isfinite(j.get<double>()));
    }
    if (j.is_structured())
        for (auto const& [key, value] : j.items())
            all_finite(value, where + "/" + key);
}

/// An answer has only real numbers; a refusal names a place and says something.
void must_hold(std::string const& name, Json const& inputs)
{
    auto const answer = run(name, inputs);
    CAPTURE(name, inputs.dump());
    if (answer) {
        all_finite(to_json(*answer), name);
        CHECK_FALSE(to_json(*answer).dump(-1, ' ', false, Json::error_handler_t::replace).empty());
    } else {
        CHECK_FALSE(answer.error().where.empty());
        CHECK(answer.error().detail.size() > 8);
    }
}

void poison_each(std::string const& name, Json const& whole, Json const& at, std::string const& pointer,
                 int depth)
{
    for (auto const& [key, value] : at.items()) {
        std::string const here = pointer + "/" + key;
        for (Json const& poison : poisons()) {
            Json changed = whole;
            changed[Json::json_pointer(here)] = poison;
            must_hold(name, changed);
        }
        if (value.is_structured() && depth < 3)
            poison_each(name, whole, value, here, depth + 1);
    }
}

} // namespace

TEST_CASE("every good line is accepted", "[calc][kit][enemy]")
{
    for (auto const& [name, inputs] : good_lines()) {
        auto const answer = run(name, inputs);
        CAPTURE(name);
        REQUIRE((answer ? std::string() : answer.error().where + ": " + answer.error().detail) == "");
    }
}

TEST_CASE("no poisoned input gives a number that is none, or passes without a word", "[calc][kit][enemy]")
{
    for (auto const& [name, inputs] : good_lines())
        poison_each(name, inputs, inputs, "", 0);
}

TEST_CASE("each input left out is either required by name or has an assumption", "[calc][kit][enemy]")
{
    for (auto const& [name, inputs] : good_lines())
        for (auto const& [key, value] : inputs.items()) {
            Json less = inputs;
            less.erase(key);
            must_hold(name, less);
        }
}

TEST_CASE("a misspelt input is refused by every calculation", "[calc][kit][enemy]")
{
    for (auto const& [name, inputs] : good_lines()) {
        Json odd = inputs;
        odd["no_such_input"] = "1 A";
        auto const answer = run(name, odd);
        CAPTURE(name);
        REQUIRE_FALSE(answer);
        CHECK(answer.error().where == "inputs.no_such_input");
    }
}

TEST_CASE("every electrical, mechanical and planning calculation shows its working", "[calc][kit]")
{
    for (auto const& [name, inputs] : good_lines()) {
        auto const answer = run(name, inputs);
        CAPTURE(name);
        REQUIRE(answer);
        if (name != "fitting.parts")
            CHECK_FALSE(answer->working.empty());
        for (auto const& w : answer->working) {
            CHECK_FALSE(w.formula.empty());
            CHECK_FALSE(w.source.empty());
        }
    }
}

TEST_CASE("each slip of the hand is named with its place and what to do", "[enemy]")
{
    struct Slip {
        char const* calc;
        Json inputs;
        char const* where;
        char const* says;
        char const* do_this;
    };
    Json const supply{{"dc_min", "105 V"}, {"dc_max", "140 V"},  {"input_resistance", "33 kohm"},
                      {"pick_up", "70 V"}, {"drop_out", "60 V"}, {"wetting_current", "5 mA"}};
    auto const with = [&](std::map<std::string, std::string> const& changed) {
        Json inputs = supply;
        for (auto const& [name, value] : changed)
            inputs[name] = value;
        return inputs;
    };
    Json const wiring{{"trip_circuit", "one"}, {"coil_resistance", "20 ohm"},   {"dc_min", "105 V"},
                      {"dc_max", "90 V"},      {"input_resistance", "33 kohm"}, {"pick_up", "70 V"},
                      {"drop_out", "60 V"}};
    std::vector<Slip> const slips{
        {"ct.ratio",
         {{"primary", "1200 A"}, {"secondary", "0 A"}},
         "inputs.secondary",
         "0 A",
         "read the nameplate"},
        {"ct.ratio", {{"primary", "4 A"}, {"secondary", "5 A"}}, "inputs.secondary", "below 1", "enter 5:4"},
        {"ct.ratio",
         {{"primary", "5 A"}, {"secondary", "1200 A"}},
         "inputs.secondary",
         "swapped",
         "enter 1200:5"},
        {"ct.load_check",
         {{"ratio", "0.5"}, {"primary_current", "900 A"}},
         "inputs.ratio",
         "below 1",
         "enter 2"},
        {"ct.load_check",
         {{"ratio", "5:1200"}, {"primary_current", "900 A"}},
         "inputs.ratio",
         "swapped",
         "enter 1200:5"},
        {"ct.taps", {{"full_ratio", "5:2000"}}, "inputs.full_ratio", "swapped", "enter 2000:5"},
        {"ct.taps", {{"full_ratio", "2000:0"}}, "inputs.full_ratio", "0 A", "read the nameplate"},
        {"input.resistor", with({{"drop_out", "80 V"}}), "inputs.drop_out", "not below the pick-up",
         "other way round"},
        {"input.resistor", with({{"dc_min", "150 V"}}), "inputs.dc_min", "above dc_max", "other way round"},
        {"input.wiring", wiring, "inputs.dc_min", "above dc_max", "other way round"},
        {"fitting.chain",
         {{"port", "G 1/2 female"},
          {"parts", {"plug-g12", "reduce-g12-g38"}},
          {"sensor", "sensor-density-g38"}},
         "inputs.parts[0]",
         "gap",
         "put it last"},
        {"fitting.chain",
         {{"port", "G 1/2 female"},
          {"parts", {{{"part", "reduce-g12-g38"}, {"inlet", 1}, {"outlet", 1}}}},
          {"sensor", "sensor-density-g38"}},
         "inputs.parts[0]",
         "gap",
         "same end"},
        {"fitting.chain",
         {{"port", "G 1/2 female"},
          {"parts", {"reduce-g12-g38"}},
          {"sensor", "sensor-density-g38"},
          {"door_clearance", "-10 mm"}},
         "inputs.door_clearance",
         "negative",
         "measure from"},
        {"mount.clearance",
         {{"depth_available", "-5 mm"}, {"parts", {{{"name", "unit"}, {"size", "120 mm"}}}}},
         "inputs.depth_available",
         "above zero",
         "measure from"},
        {"mount.clearance",
         {{"depth_available", "150 mm"}, {"parts", {{{"name", "unit"}, {"size", "-120 mm"}}}}},
         "inputs.parts",
         "negative",
         "enter plain sizes"},
        {"mount.clearance",
         {{"depth_available", "150 mm"},
          {"min_clearance", "-1 mm"},
          {"parts", {{{"name", "unit"}, {"size", "120 mm"}}}}},
         "inputs.min_clearance",
         "negative",
         "enter how much"},
    };
    for (Slip const& slip : slips) {
        auto const answer = run(slip.calc, slip.inputs);
        CAPTURE(slip.calc, slip.inputs.dump());
        REQUIRE_FALSE(answer);
        CAPTURE(answer.error().where, answer.error().detail);
        CHECK(answer.error().where == slip.where);
        CHECK(answer.error().detail.find(slip.says) != std::string::npos);
        CHECK(answer.error().detail.find(slip.do_this) != std::string::npos);
    }
}

TEST_CASE("a resistor beyond its contact and a cabinet too shallow are failures with their remedy", "[enemy]")
{
    auto const over = run("input.resistor", {{"dc_min", "105 V"},
                                             {"dc_max", "140 V"},
                                             {"input_resistance", "33 kohm"},
                                             {"drop_out", "60 V"},
                                             {"contact_breaking_current", "20 mA"},
                                             {"resistance", "2.2 kohm"},
                                             {"noise", {{"leakage_current", "1 mA"}}}});
    REQUIRE(over);
    CHECK(over->verdict() == Verdict::fail);
    // 140 V over 2.2 kohm and 33 kohm in parallel: 63.64 + 4.24 = 67.88 mA (Ohm's law).
    auto const broken = std::find_if(over->checks.begin(), over->checks.end(), [](auto const& c) {
        return c.text.find("contact breaks") != std::string::npos;
    });
    REQUIRE(broken != over->checks.end());
    CHECK(broken->verdict == Verdict::fail);
    CHECK(broken->text.find("67.9 mA of 20 mA") != std::string::npos);
    CHECK(broken->remedy.find("output contact that breaks") != std::string::npos);

    auto const shallow = run("mount.clearance", {{"depth_available", "110 mm"},
                                                 {"parts", {{{"name", "unit"}, {"size", "120 mm"}}}}});
    REQUIRE(shallow);
    CHECK(shallow->verdict() == Verdict::fail);
    CHECK(std::any_of(shallow->checks.begin(), shallow->checks.end(), [](auto const& c) {
        return c.verdict == Verdict::fail && c.text.find("does not shut") != std::string::npos &&
               c.remedy.find("10.0 mm short") != std::string::npos;
    }));
}
