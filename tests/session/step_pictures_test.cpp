#include "../drawing/label_checks.h"
#include "calc/registry.h"
#include "session/step_picture.h"
#include "session_support.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <set>

// The pictures of the steps against the calculations they belong to: what they say is what was computed.

using namespace isochore;
using namespace isochore::session;

namespace {

struct Pictures {
    Bench bench;
    std::unique_ptr<Outage> outage = bench.begin();
    drawing::MeasureText measure = tests::fixed_width(0.55);

    /// The picture of a step for inputs of its calculation, with the words of the language or English ones.
    std::optional<drawing::Picture> draw(std::string const& id, Json const& inputs,
                                         drawing::Space space = {100.0, 80.0})
    {
        auto const* step = outage->checklists().step(id);
        REQUIRE(step);
        REQUIRE(step->call);
        auto const answer = calc::run(step->call->calc, inputs);
        CAPTURE(id, answer ? std::string() : answer.error().where + ": " + answer.error().detail);
        REQUIRE(answer);
        auto picture = step_picture(outage->context(), *step,
                                    {{"results", results_of(*answer)}, {"checks", checks_of(*answer)}},
                                    inputs, space, measure);
        if (picture) {
            CHECK(tests::label_faults(*picture, measure) == "");
            CHECK(tests::stroke_faults(*picture) == "");
        }
        return picture;
    }
    static Json results_of(calc::Answer const& answer)
    {
        return calc::to_json(answer).value("results", Json::object());
    }
    static Json checks_of(calc::Answer const& answer)
    {
        return calc::to_json(answer).value("checks", Json::array());
    }
};

bool says(drawing::Picture const& picture, std::string const& text)
{
    for (auto const& item : picture.items)
        if (auto const* label = std::get_if<drawing::Label>(&item);
            label && label->text.find(text) != std::string::npos)
            return true;
    return false;
}

Json wiring_inputs(std::string const& coils, std::string const& threshold)
{
    return {{"trip_circuit", coils},
            {"coil_resistance", "16.5 ohm"},
            {"supervision_resistance", "22 kohm"},
            {"supervision_threshold", threshold},
            {"trip_output", "every"},
            {"position", "free_52b"},
            {"dc_min", "70 V"},
            {"dc_max", "140 V"},
            {"input_resistance", "33 kohm"},
            {"pick_up", "60 V"},
            {"drop_out", "40 V"}};
}

} // namespace

TEST_CASE("a step with a calculation that has a picture shows nothing while nothing is known", "[session]")
{
    Pictures p;
    for (char const* const id : {"prepare.wiring", "prepare.port_identify", "prepare.cables", "mount.load",
                                 "mount.sightline", "currents.ratio"}) {
        auto const* step = p.outage->checklists().step(id);
        REQUIRE(step);
        INFO(id);
        CHECK_FALSE(step->picture.empty());
        CHECK_FALSE(step_picture(p.outage->context(), *step, {}, {}, {100.0, 80.0}, p.measure));
    }
}

TEST_CASE("a supervised coil that the input would hide is drawn with a separate output and its numbers",
          "[session]")
{
    // Ohm's law: 140 V / (22 k + 33 k) = 2.55 mA through an open coil's input, 84 V across it.
    Pictures p;
    auto const refused = p.draw("prepare.wiring", wiring_inputs("one_supervised", "1.5 mA"));
    REQUIRE(refused);
    CHECK(says(*refused, "74"));
    CHECK(says(*refused, "2.55 mA"));
    CHECK(says(*refused, "84 V"));
    CHECK(says(*refused, "separate output"));
    CHECK(says(*refused, "R"));
    auto const taken = p.draw("prepare.wiring", wiring_inputs("one_supervised", "3 mA"));
    REQUIRE(taken);
    CHECK(says(*taken, "across the trip coil"));
    CHECK_FALSE(says(*taken, "separate output"));
}

TEST_CASE("where no coil is supervised the circuit has no relay and no table of its states", "[session]")
{
    Pictures p;
    Json inputs = wiring_inputs("one", "1.5 mA");
    inputs.erase("supervision_resistance");
    inputs.erase("supervision_threshold");
    auto const picture = p.draw("prepare.wiring", inputs);
    REQUIRE(picture);
    CHECK_FALSE(says(*picture, "74"));
    CHECK_FALSE(says(*picture, "supervision"));
    CHECK(says(*picture, "across the trip coil"));
}

TEST_CASE("the path of the current ends with what the coil reads, and its figure is the calculation's scale",
          "[session]")
{
    // 1200 A at 1200:5 in a delta lead, 5:1 behind it, two passes: 5 A x sqrt 3 / 5 x 2 = 3.46 A.
    Pictures p;
    Json const inputs{{"primary", "1200 A"},  {"secondary", "5 A"},
                      {"turns", "2 turns"},   {"connection", "delta_auxiliary"},
                      {"aux_primary", "5 A"}, {"aux_secondary", "1 A"}};
    auto const picture = p.draw("currents.ratio", inputs, {140.0, 90.0});
    REQUIRE(picture);
    for (char const* const text :
         {"S1", "1200:5", "8.66 A", "1.73 A", "3.46 A", "5:1", "√3", "auxiliary CT"}) {
        CAPTURE(text);
        CHECK(says(*picture, text));
    }
    CHECK(says(*picture, "346.41 A for 1 A at the coil"));
    CHECK(1200.0 / (5.0 * std::numbers::sqrt3 / 5.0 * 2.0) == Approx(346.41).epsilon(1e-5));
    auto const plain = p.draw("currents.ratio", {{"primary", "600 A"}, {"secondary", "1 A"}});
    REQUIRE(plain);
    CHECK(says(*plain, "600 to 1; 600 A for 1 A at the coil"));
    CHECK_FALSE(says(*plain, "auxiliary CT"));
}

TEST_CASE("a thread is drawn among those it may be taken for, and says what tells them apart", "[session]")
{
    // G 1/2: 14 threads per inch, minor diameter 18.631 mm (ISO 228-1, from memory).
    Pictures p;
    auto const sure = p.draw("prepare.port_identify",
                             {{"shape", "female_parallel"}, {"diameter", "18.64 mm"}, {"pitch", "1.81 mm"}});
    REQUIRE(sure);
    CHECK(says(*sure, "G 1/2, Rp 1/2"));
    CHECK(says(*sure, "NPT 1/2"));
    CHECK_FALSE(says(*sure, "NPT 3/4")); // 4 mm off: nobody takes it for this one
    auto const open = p.draw("prepare.port_identify",
                             {{"shape", "female_tapered"}, {"diameter", "18.3 mm"}, {"pitch", "1.8 mm"}});
    REQUIRE(open);
    CHECK(says(*open, "Next: flank gauge"));
    auto const no_pitch =
        p.draw("prepare.port_identify", {{"shape", "female_parallel"}, {"diameter", "18.64 mm"}});
    REQUIRE(no_pitch);
    CHECK_FALSE(says(*no_pitch, "measured"));
}

TEST_CASE("the bolts' point says the utilisation, and an overload says it fails", "[session]")
{
    Pictures p;
    Json inputs{{"count", "4"},    {"size", "M6"},        {"grade", "8.8"},     {"mass", "4.8 kg"},
                {"shock", "15 g"}, {"standoff", "60 mm"}, {"spacing", "150 mm"}};
    auto const good = p.draw("mount.load", inputs);
    REQUIRE(good);
    CHECK(says(*good, "% in use"));
    CHECK(says(*good, "4.8 kg × 15 g"));
    inputs["mass"] = "480 kg";
    inputs["count"] = "2";
    auto const over = p.draw("mount.load", inputs);
    REQUIRE(over);
    bool crossed = false;
    for (auto const& item : over->items)
        if (auto const* run = std::get_if<drawing::Polyline>(&item); run && run->points.size() == 8)
            crossed = crossed || run->ink == drawing::Ink::fail;
    CHECK(crossed);
}

TEST_CASE("each run of wire is drawn with its cut length, and the total is the calculation's", "[session]")
{
    // 6.5 m x 1.1 + 2 x 0.15 m = 7.45 m; slack and tails are the usual ones.
    Pictures p;
    Json const inputs{
        {"runs",
         {{{"name", "current leads"}, {"route", "6.5 m"}, {"conductors", 6}},
          {{"name", "sensor lead"}, {"route", "5.5 m"}, {"conductors", 2}, {"reach", "10 m"}}}}};
    auto const picture = p.draw("prepare.cables", inputs);
    REQUIRE(picture);
    CHECK(says(*picture, "6 × 7.45 m = 44.7 m"));
    CHECK(says(*picture, "2 × 6.35 m = 12.7 m"));
    CHECK(says(*picture, "in all 57.4 m of wire"));
}

TEST_CASE("the sight line says how much is seen and where the display stands", "[session]")
{
    Pictures p;
    auto const picture = p.draw("mount.sightline", {{"window", "120 mm"},
                                                    {"offset", "-40 mm"},
                                                    {"gap", "60 mm"},
                                                    {"display", "90 mm"},
                                                    {"eye_distance", "500 mm"},
                                                    {"min_visible", "90 %"}});
    REQUIRE(picture);
    CHECK(says(*picture, "80 % of the display is seen"));
    CHECK(says(*picture, "40 mm off"));
    CHECK(says(*picture, "hidden"));
}

TEST_CASE("a reading is drawn beside what was expected of it, in the unit it was typed in", "[session]")
{
    Pictures p;
    auto const* step = p.outage->checklists().step("fill.cylinder_after");
    REQUIRE(step);
    Prediction expected;
    expected.value = 60.50;
    expected.low = 59.0;
    expected.high = 62.0;
    expected.unit = find_unit("kg", Dimension::mass);
    auto const draw = [&](char const* typed) {
        ReadingInHand reading;
        reading.expected = expected;
        if (typed)
            reading.read = parse_amount(typed, Dimension::mass, "reading").value();
        auto picture =
            step_picture(p.outage->context(), *step, {}, {}, {100.0, 80.0}, p.measure, {}, reading);
        REQUIRE(picture);
        CHECK(tests::label_faults(*picture, p.measure) == "");
        return *picture;
    };
    auto const before = draw(nullptr);
    CHECK(says(before, "60.50 kg"));
    CHECK_FALSE(says(before, "as read"));
    CHECK_FALSE(says(before, "interval"));
    auto const inside = draw("60.53 kg");
    CHECK(says(inside, "60.53 kg"));
    CHECK(says(inside, "inside the 95 %"));
    CHECK(says(draw("63 kg"), "1.00 kg outside"));
    // 133.4 lb = 60.51 kg, and 60.50 kg = 133.4 lb (NIST SP 811: 0.45359237 kg).
    auto const pounds = draw("133.4 lb");
    CHECK(says(pounds, "133.4 lb"));
    CHECK(says(pounds, "inside"));
    CHECK_FALSE(says(pounds, "kg"));
}

TEST_CASE("the other coils' readings stand beside one at the same load", "[session]")
{
    Pictures p;
    auto state = p.outage->state();
    state.records["prove.secondary"].typed = "1.004 A";
    state.records["prove.load"].typed = "400 A"; // another question: not beside it
    Context const context{p.outage->checklists(), p.outage->profile(), state};
    auto const* step = p.outage->checklists().step("prove.phase_b");
    REQUIRE(step);
    ReadingInHand reading;
    reading.expected =
        Prediction{1.0, 0.97, 1.03, PressureReference::none, find_unit("A", Dimension::current), {}};
    reading.read = parse_amount("998 mA", Dimension::current, "reading").value();
    auto const picture = step_picture(context, *step, {}, {}, {100.0, 80.0}, p.measure, {}, reading);
    REQUIRE(picture);
    CHECK(says(*picture, "1004 mA"));
    CHECK(says(*picture, "998 mA"));
    CHECK_FALSE(says(*picture, "400000"));
}
