#include "ct_run.h"

using namespace isochore;
using namespace isochore::calc;

namespace {

std::string with(std::string const& changes)
{
    Json base =
        Json::parse(R"({"dc_nominal":"125 V","dc_min":"105 V","dc_max":"140 V","input_resistance":"100 kohm",
        "pick_up":"60 V","drop_out":"40 V","noise":{"leakage_current":"1 mA","cable_length":"15 m",
        "capacitance_per_length":"0.3 nF/m"},"wetting_current":"5 mA","contact_breaking_current":"200 mA",
        "derating":"50 %","max_timing_error":"0.5 ms","power_rating":"5 W","series":"E12"})");
    base.merge_patch(Json::parse(changes));
    return base.dump();
}

Json constraint(Answer const& a, std::string const& name)
{
    for (auto const& c : a.facts["constraints"])
        if (c["name"] == name)
            return c;
    FAIL("no constraint " << name);
    return {};
}

} // namespace

TEST_CASE("input.resistor gives the window with every constraint and the value to fit", "[calc][input]")
{
    auto const a = answered("input.resistor", with("{}"));
    CHECK(a.verdict() == Verdict::pass);
    CHECK(value_of(a, "resistance") == 18000.0);
    CHECK(value_of(a, "power_rating") == 5.0);
    CHECK(a.facts["window"]["min"]["value"].get<double>() == Approx(7840.0));
    CHECK(a.facts["window"]["max"]["value"].get<double>() == Approx(21000.0));
    CHECK(a.facts["window"]["min_by"] == "heat");
    CHECK(a.facts["window"]["max_by"] == "wetting");
    CHECK(constraint(a, "heat")["at_text"] == "1.09 W of 2.5 W");
    CHECK(constraint(a, "noise")["at_text"] == "15.3 V of 20 V");
    CHECK(constraint(a, "noise")["limit_text"] == "≤ 25 kΩ");
    // (18 k || 100 k) x 4.5 nF x ln(140 / 40), by hand.
    CHECK(value_of(a, "dropout_delay") == Approx(15254.237288 * 4.5e-9 * 1.2527629685).epsilon(1e-8));
    CHECK(a.facts["constraints"].size() == 5);
    CHECK(a.working.size() == 5);
}

TEST_CASE("a constraint row has what the ruler needs", "[calc][input]")
{
    auto const a = answered("input.resistor", with("{}"));
    for (auto const& c : a.facts["constraints"]) {
        CAPTURE(c.dump());
        for (char const* member :
             {"name", "label", "bound", "limit_ohm", "limit_text", "of", "unit", "at_value", "verdict"})
            CHECK(c.contains(member));
        CHECK((c["bound"] == "min" || c["bound"] == "max"));
        CHECK(c["verdict"] == "pass");
    }
}

TEST_CASE("without a rating the smallest common one that carries the power is chosen", "[calc][input]")
{
    auto const a = answered("input.resistor", with(R"({"power_rating":null})"));
    CHECK(value_of(a, "resistance") == 18000.0);
    CHECK(value_of(a, "power_rating") == 3.0); // 1.09 W at half load
    CHECK(a.facts["window"]["min"]["value"].get<double>() == Approx(140.0 * 140.0 / 1.5));
}

TEST_CASE("coupled voltage adds to the leakage as the current through the cable's capacitance",
          "[calc][input]")
{
    auto const a = answered(
        "input.resistor",
        with(
            R"({"noise":{"coupled_voltage":"120 V","frequency":"60 Hz","cable_length":"200 m"},"power_rating":"25 W"})"));
    double const amps = 1e-3 + 120.0 * 2.0 * 3.14159265358979 * 60.0 * 200.0 * 0.3e-9;
    CHECK(value_of(a, "noise_voltage") ==
          Approx(amps / (1.0 / value_of(a, "resistance") + 1e-5)).epsilon(1e-9));
}

TEST_CASE("an empty window names the two constraints and the numbers that would open it", "[calc][input]")
{
    auto const a = answered("input.resistor", with(R"({"noise":{"leakage_current":"10 mA"},
        "contact_breaking_current":"20 mA","power_rating":null})"));
    CHECK(a.verdict() == Verdict::fail);
    CHECK(a.facts["possible"] == false);
    CHECK(a.find("resistance") == nullptr);
    auto const& collision = a.facts["collision"];
    CHECK(collision["constraints"] == Json({"breaking", "noise"}));
    // At the noise limit of 2.04 k the contact would break 140 V over 2.04 k || 100 k = 2 k: 70 mA.
    CHECK(collision["opens_with"][0].get<std::string>().find("70 mA") != std::string::npos);
    // At the breaking limit of 7.53 k (7 k with the input) 20 V is 2.86 mA.
    CHECK(collision["opens_with"][1].get<std::string>().find("2.86 mA") != std::string::npos);
}

TEST_CASE("what is said to open the window does open it", "[calc][input]")
{
    auto const opened = answered("input.resistor", with(R"({"noise":{"leakage_current":"10 mA"},
        "contact_breaking_current":"70.1 mA","power_rating":null,"wetting_current":null})"));
    CHECK(opened.facts["possible"] == true);
    auto const quiet = answered("input.resistor", with(R"({"noise":{"leakage_current":"2.85 mA"},
        "contact_breaking_current":"20 mA","power_rating":null,"wetting_current":null})"));
    CHECK(quiet.facts["possible"] == true);
}

TEST_CASE("a contact too weak for the input itself is said alone", "[calc][input]")
{
    auto const a = answered("input.resistor", with(R"({"contact_breaking_current":"1 mA"})"));
    CHECK(a.verdict() == Verdict::fail);
    CHECK(a.facts["collision"]["constraints"] == Json::array({"breaking"}));
    CHECK(to_json(a).dump().find("inf") == std::string::npos);
}

TEST_CASE("a fitted resistor that carries more than the contact can break fails by that name",
          "[calc][input]")
{
    auto const a =
        answered("input.resistor", with(R"({"resistance":"4.7 kohm","contact_breaking_current":"20 mA"})"));
    CHECK(check_verdict(a, "breaking") == Verdict::fail);
    CHECK(check_verdict(a, "heat") == Verdict::fail);
    CHECK(check_verdict(a, "noise") == Verdict::pass);
    CHECK(value_of(a, "resistance") == 4700.0);
    CHECK(a.facts["recommended"]["value"] == 18000.0);
}

TEST_CASE("a fitted resistor that breaks several limits is told all it needs", "[calc][input]")
{
    auto const remedies = [](std::string const& change) {
        std::vector<std::string> list;
        for (auto const& check : answered("input.resistor", with(change)).checks)
            if (check.verdict == Verdict::fail)
                list.push_back(check.remedy);
        return list;
    };
    auto const holds = [](std::string const& text, char const* part) {
        return text.find(part) != std::string::npos;
    };
    // Ohm's and Joule's laws: 140 V over 4.7 k and 100 k in parallel are 31.2 mA, and (140 V)^2 / 4.7 k are
    // 4.17 W.
    auto const both = remedies(R"({"resistance":"4.7 kohm","contact_breaking_current":"20 mA"})");
    REQUIRE(both.size() == 2);
    for (auto const& remedy : both) {
        CAPTURE(remedy);
        CHECK(holds(remedy, "4.17 W"));
        CHECK(holds(remedy, "31.2 mA"));
        CHECK(holds(remedy, "or another value"));
    }
    auto const one = remedies(R"({"resistance":"4.7 kohm","contact_breaking_current":"500 mA"})");
    REQUIRE(one.size() == 1);
    CHECK(holds(one.front(), "4.17 W"));
    CHECK_FALSE(holds(one.front(), "output contact"));
    // Where no value satisfies every limit the remedy named first opens the window, and none proposes
    // another value.
    auto const none = remedies(R"({"resistance":"4.7 kohm","noise":{"leakage_current":"10 mA"},
        "contact_breaking_current":"20 mA","power_rating":null})");
    REQUIRE(none.size() > 1);
    CHECK(holds(none.front(), "Opens with"));
    for (auto const& remedy : none)
        CHECK_FALSE(holds(remedy, "or another value"));
}

TEST_CASE("a limit inside the part's tolerance is undecided until the part is measured", "[calc][input]")
{
    CHECK(check_verdict(answered("input.resistor", with(R"({"resistance":"20.5 kohm"})")), "wetting") ==
          Verdict::undecided);
    CHECK(check_verdict(answered("input.resistor", with(R"({"resistance":"20.5 kohm","tolerance":"1 %"})")),
                        "wetting") == Verdict::pass);
}

TEST_CASE("the voltage rating of the part is held against the highest supply", "[calc][input]")
{
    CHECK(check_verdict(answered("input.resistor", with(R"({"voltage_rating":"350 V"})")),
                        "voltage_rating") == Verdict::pass);
    CHECK(check_verdict(answered("input.resistor", with(R"({"voltage_rating":"100 V"})")),
                        "voltage_rating") == Verdict::fail);
    CHECK(has_note(answered("input.resistor", with("{}")), "140 V or more"));
}

TEST_CASE("assumptions are said, not hidden", "[calc][input]")
{
    auto const a =
        answered("input.resistor", R"({"dc_min":"105 V","dc_max":"140 V","input_resistance":"100 kohm",
        "drop_out":"40 V","wetting_current":"5 mA","noise":{"cable_length":"20 m","coupled_voltage":"120 V"}})");
    CHECK(has_note(a, "\"derating\" not given: share of the rated power that is used taken as 50 %"));
    CHECK(has_note(a, "0.3 nF/m"));
    CHECK(has_note(a, "60 Hz"));
}

TEST_CASE("input.resistor refuses contradictions with what to do", "[calc][input]")
{
    auto const where = [](std::string const& change) {
        return refused("input.resistor", with(change)).where;
    };
    CHECK(where(R"({"dc_min":"150 V"})") == "inputs.dc_min");
    CHECK(where(R"({"drop_out":"70 V"})") == "inputs.drop_out");
    CHECK(where(R"({"pick_up":"110 V","drop_out":"80 V"})") == "inputs.pick_up");
    CHECK(where(R"({"dc_nominal":"250 V"})") == "inputs.dc_nominal");
    CHECK(where(R"({"input_resistance":"0 ohm"})") == "inputs.input_resistance");
    CHECK(where(R"({"derating":"120 %"})") == "inputs.derating");
    CHECK(where(R"({"series":"E6"})") == "inputs.series");
    CHECK(where(R"({"resistance":"0 ohm"})") == "inputs.resistance");
    CHECK(where(R"({"noise":{"leakage_current":"-1 mA"}})") == "inputs.noise.leakage_current");
    CHECK(where(R"({"noise":{"leakage":"1 mA"}})") == "inputs.noise.leakage");
    CHECK(where(R"({"noise":{"cable_length":"-5 m"}})") == "inputs.noise.cable_length");
    CHECK(refused("input.resistor", with(R"({"noise":null,"wetting_current":null})")).code ==
          Error::Code::no_solution);
}

TEST_CASE("input.supervision finds an open coil hidden behind the input", "[calc][input]")
{
    char const* base = R"({"dc_max":"140 V","supervision_resistance":"20 kohm","supervision_threshold":"2 mA",
        "coil_resistance":"20 ohm","input_resistance":"33 kohm","pick_up":"70 V"})";
    auto const a = answered("input.supervision", base);
    CHECK(a.facts["masked"] == true);
    CHECK(a.verdict() == Verdict::fail);
    CHECK(value_of(a, "supervision_current_open") == Approx(140.0 / 53e3));
    CHECK(value_of(a, "input_voltage_open") == Approx(140.0 * 33.0 / 53.0));
    CHECK(a.facts["advice"].get<std::string>().find("separate wetted trip output") != std::string::npos);
    CHECK(a.facts["states"].size() == 4);
    // The advice names the input that would not hide it: 140 V / 2 mA - 20 k = 50 k.
    CHECK(a.facts["advice"].get<std::string>().find("50 kΩ") != std::string::npos);
    Json better = Json::parse(base);
    better["input_resistance"] = "60 kohm";
    CHECK(answered("input.supervision", better.dump()).facts["masked"] == false);
}

TEST_CASE("input.supervision refuses an input that supervision alone turns on", "[calc][input]")
{
    auto const a = answered("input.supervision", R"({"dc_max":"140 V","supervision_resistance":"100 ohm",
        "supervision_threshold":"10 mA","coil_resistance":"200 ohm","input_resistance":"100 kohm","pick_up":"70 V"})");
    CHECK(check_verdict(a, "input_stays_off") == Verdict::fail);
    CHECK(a.facts["masked"] == false);
}

TEST_CASE("an input ahead of 52a reads on while the breaker is open, and that is said", "[calc][input]")
{
    auto const a = answered("input.supervision", R"({"dc_max":"140 V","supervision_resistance":"20 kohm",
        "supervision_threshold":"1 mA","coil_resistance":"20 ohm","input_resistance":"200 kohm","pick_up":"70 V",
        "position":"contact_and_coil"})");
    CHECK(has_note(a, "a steady on while the breaker is open is no trip"));
    CHECK(a.facts["states"][2]["input_on"] == true);
}

TEST_CASE("input.supervision refuses values of zero by name", "[calc][input]")
{
    CHECK(refused("input.supervision", R"({"dc_max":"140 V","supervision_resistance":"0 ohm",
        "supervision_threshold":"1 mA","coil_resistance":"20 ohm","input_resistance":"1 kohm","pick_up":"70 V"})")
              .detail.find("supervision resistance") != std::string::npos);
    CHECK(refused("input.supervision", R"({"dc_max":"140 V"})").code == Error::Code::missing_input);
}

TEST_CASE("supervision so near its threshold that resistances decide is undecided", "[calc][input]")
{
    char const* base = R"({"dc_max":"140 V","dc_min":"100 V","supervision_resistance":"20 kohm",
        "supervision_threshold":"2 mA","coil_resistance":"20 ohm","input_resistance":"52 kohm","pick_up":"70 V"})";
    CHECK(check_verdict(answered("input.supervision", base), "open_coil_seen") ==
          Verdict::pass); // 1.94 mA, exact
    Json wide = Json::parse(base);
    wide["uncertainties"] = {{"input_resistance", "5 %"}, {"supervision_resistance", "5 %"}};
    auto const a = answered("input.supervision", wide.dump());
    CHECK(check_verdict(a, "open_coil_seen") == Verdict::undecided);
    // First order: u(I) = I sqrt((20 k 5 %)^2 + (52 k 5 %)^2) / 72 k.
    CHECK(a.find("supervision_current_open")->u.value() ==
          Approx(140.0 / 72e3 * 0.05 * std::hypot(20.0, 52.0) / 72.0).epsilon(1e-4));
    CHECK(a.budget.front().input == "input_resistance");
    CHECK(check_verdict(a, "supervision_at_lowest_supply") == Verdict::pass);
    wide["dc_min"] = "30 V"; // 1.5 mA through a healthy coil
    CHECK(check_verdict(answered("input.supervision", wide.dump()), "supervision_at_lowest_supply") ==
          Verdict::fail);
    wide["dc_min"] = "150 V";
    CHECK(refused("input.supervision", wide.dump()).where == "inputs.dc_min");
}

TEST_CASE("a short survey leads to the connection by its numbers", "[calc][input]")
{
    auto const choice = [](std::string const& changes) {
        Json base = Json::parse(R"({"dc_min":"70 V","dc_max":"140 V","input_resistance":"33 kohm",
            "pick_up":"60 V","drop_out":"40 V","trip_circuit":"one","coil_resistance":"16.5 ohm",
            "trip_output":"every","position":"free_52b"})");
        base.merge_patch(Json::parse(changes));
        return answered("input.wiring", base.dump()).facts["trip_wiring"].get<std::string>();
    };
    CHECK(choice("{}") == "parallel_with_coil");
    // Open coil: 140 V / (22 + 33) kohm = 2.55 mA, above the 1.5 mA below which it would alarm (Ohm's law).
    std::string const masked =
        R"("trip_circuit":"one_supervised","supervision_resistance":"22 kohm","supervision_threshold":"1.5 mA")";
    CHECK(choice("{" + masked + "}") == "separate_output");
    CHECK(choice("{" + masked + R"(,"trip_output":"some"})") == "none");
    CHECK(choice(R"({"trip_circuit":"two"})") == "separate_output");
    CHECK(refused("input.wiring", R"({"dc_min":"70 V","dc_max":"140 V","input_resistance":"33 kohm",
        "pick_up":"60 V","drop_out":"40 V","trip_circuit":"one","coil_resistance":"16.5 ohm",
        "trip_output":"none","position":"lamp"})")
              .where.find("lamp_resistance") != std::string::npos);
}
