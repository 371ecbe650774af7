#include "files/checklist_file.h"
#include "files/checklist_samples.h"
#include <catch2/catch.hpp>
#include <random>

using namespace isochore;
using namespace checklist_samples;
using Catch::Matchers::Contains;

namespace {

/// Exactly one error, at this place, saying this.
void check_one_error(Json const& stage, std::string const& place, std::string const& word)
{
    auto const loaded = load(stage);
    CAPTURE(place, word, all_errors(loaded.report));
    REQUIRE(loaded.report.errors.size() == 1);
    CHECK(loaded.report.errors[0].where == "01_fill.json: " + place);
    CHECK_THAT(loaded.report.errors[0].detail, Contains(word));
}

} // namespace

TEST_CASE("a good stage with a step of each kind is read without a word")
{
    auto const loaded = load(good_stage());
    CAPTURE(all_errors(loaded.report));
    REQUIRE(loaded.report.ok());
    REQUIRE(loaded.checklists.stages.size() == 1);
    auto const& stage = loaded.checklists.stages[0];
    CHECK(stage.id == "fill");
    CHECK(stage.file == "01_fill.json");
    CHECK(stage.steps.size() == 7);
    CHECK(loaded.checklists.cautions.contains("pressure"));
    CHECK(loaded.texts.size() == 2);

    auto const* seen = loaded.checklists.step("fill.seen");
    REQUIRE(seen);
    CHECK(seen->hold);
    CHECK(seen->challenge);
    CHECK(seen->may_override == model::OverridePolicy::never);
    CHECK(seen->answers[1].then == "Shut it.");
    CHECK_FALSE(seen->answers[1].ok);

    auto const* before = loaded.checklists.step("fill.before");
    REQUIRE(before);
    CHECK(before->dimension == Dimension::pressure);
    CHECK(before->units == std::vector<std::string>{"bar g", "MPa abs"});
    CHECK(before->minutes_likely == 2.0);
    REQUIRE(before->limit);
    CHECK_FALSE(before->limit->confirmed);
    REQUIRE(before->expected);
    CHECK(before->expected->result == "pressure_gauge");
}

TEST_CASE("the reader finds the steps an input mentions, however deep, each once")
{
    auto const loaded = load(good_stage());
    auto const* topup = loaded.checklists.step("fill.topup");
    REQUIRE(topup);
    REQUIRE(topup->call);
    CHECK(topup->call->uses == std::vector<std::string>{"fill.before", "fill.log"});
    auto const* log = loaded.checklists.step("fill.log");
    REQUIRE(log->call);
    CHECK(log->call->uses == std::vector<std::string>{"fill.log"});
}

TEST_CASE("every fault of a file is reported at once, each with its place")
{
    Json stage = good_stage();
    stage["order"] = "one";
    step(stage, 2)["units"] = {"bar"};
    step(stage, 2)["limit"]["confidence"] = "sure";
    step(stage, 4).erase("columns");
    stage["colour"] = "red";
    auto const loaded = load(stage);
    CAPTURE(all_errors(loaded.report));
    std::vector<std::string> places;
    for (auto const& error : loaded.report.errors)
        places.push_back(error.where);
    using V = std::vector<std::string>;
    CHECK_THAT(places, Catch::Matchers::Contains(V{"01_fill.json: order", "01_fill.json: steps[2].units[0]",
                                                   "01_fill.json: steps[2].limit.confidence",
                                                   "01_fill.json: steps[4].columns"}));
    CHECK(places.size() == 5);
}

TEST_CASE("a fault in one step is named with the step's place and what was refused")
{
    struct Fault {
        std::size_t step;
        char const* member;
        char const* value; // JSON; empty: the member is taken away
        char const* place;
        char const* word;
    };
    auto const fault = GENERATE(values<Fault>({
        {0, "title", "", "steps[0].title", "required"},
        {0, "title", "\"\"", "steps[0].title", "empty"},
        {0, "title", "7", "steps[0].title", "text"},
        {0, "text", "\"two\\nlines\"", "steps[0].text", "control"},
        {0, "source", "", "steps[0].source", "required"},
        {0, "id", "\"fill.Way\"", "steps[0].id", "not an id"},
        {0, "kind", "\"guess\"", "steps[0].kind", "guess"},
        {0, "colour", "1", "steps[0]", "colour"},
        {0, "units", "[\"V\"]", "steps[0]", "units"},
        {0, "challenge", "\"yes\"", "steps[0].challenge", "true or false"},
        {0, "picture", "\"sunset\"", "steps[0].picture", "sunset"},
        {0, "minutes", "[3, 2, 4]", "steps[0].minutes", "three numbers"},
        {0, "minutes", "[1, 2]", "steps[0].minutes", "three numbers"},
        {0, "minutes", "[-1, 2, 3]", "steps[0].minutes", "three numbers"},
        {0, "minutes", "[1, 2, 1e300]", "steps[0].minutes", "three numbers"},
        {0, "needs", "\"fill.seen\"", "steps[0].needs", "list"},
        {0, "needs", "[\"fill.seen\", \"fill.seen\"]", "steps[0].needs[1]", "twice"},
        {1, "answers", "[]", "steps[1].answers", "needs 1"},
        {1, "answers", R"([{"id":"a","label":"A","ok":false,"then":"x"}])", "steps[1].answers", "never"},
        {1, "answers", R"([{"id":"a","label":"A"},{"id":"b","label":"B","ok":false}])",
         "steps[1].answers[1].then", "what to do"},
        {1, "answers", R"([{"id":"a","label":"A"},{"id":"a","label":"B"}])", "steps[1].answers[1].id",
         "twice"},
        {1, "answers", R"([{"id":"a&b","label":"A"}])", "steps[1].answers[0].id", "a&b"},
        {1, "may_override", "\"always\"", "steps[1].may_override", "always"},
        {2, "challenge", "true", "steps[2].challenge", "confirm or choose"},
        {2, "units", "[\"bar\"]", "steps[2].units[0]", "absolute or gauge"},
        {2, "units", "[\"V\"]", "steps[2].units[0]", "not a unit of pressure"},
        {2, "units", "[]", "steps[2].units", "at least one"},
        {2, "plausible_min", "\"12 bar g\"", "steps[2].plausible_min", "above its own upper end"},
        {2, "possible_max", "\"20\"", "steps[2].possible_max", "no unit"},
        {2, "limit", R"({"source":"x","confidence":"confirmed"})", "steps[2].limit", "min, max"},
        {2, "limit", R"({"max":"9 bar","source":"x","confidence":"confirmed"})", "steps[2].limit.max",
         "absolute or gauge"},
        {2, "limit", R"({"max":"series:fill.log","source":"x","confidence":"confirmed"})",
         "steps[2].limit.max", "one value"},
        {2, "limit", R"({"max":"9 bar g","confidence":"confirmed"})", "steps[2].limit.source", "required"},
        {2, "expected", R"({"calc":"fill.target","inputs":{}})", "steps[2].expected.result", "required"},
        {2, "expected", R"({"calc":"fill.target","result":"x","inputs":[1]})", "steps[2].expected.inputs",
         "object"},
        {2, "expected", R"({"calc":"fill.target","result":"x","inputs":{"t":"step:"}})",
         "steps[2].expected.inputs.t", "which value"},
        {3, "dimension", "\"voltage\"", "steps[3]", "dimension"},
        {4, "columns", "[]", "steps[4].columns", "at least one"},
        {4, "columns", R"([{"id":"t","label":"T","dimension":"time","units":["s"]}])",
         "steps[4].columns[0].dimension", "own time"},
        {4, "columns", R"([{"id":"t","label":"T","dimension":"warmth","units":["s"]}])",
         "steps[4].columns[0].dimension", "warmth"},
        {4, "columns",
         R"([{"id":"t","label":"T","dimension":"temperature","units":["degC"],"possible_max":"3 bar abs"}])",
         "steps[4].columns[0].possible_max", "bar"},
        {4, "columns",
         R"([{"id":"t","label":"T","dimension":"temperature","units":["degC"],"plausible_min":"30 degC","plausible_max":"20 degC"}])",
         "steps[4].columns[0].plausible_min", "above"},
        {4, "interval_s", "0", "steps[4].interval_s", "outside"},
        {4, "call", "", "steps[4].call", "what to compute"},
        {5, "call", R"({"calc":"fill.topup","inputs":{},"result":"x"})", "steps[5].call", "result"},
        {5, "when", R"({"step":"fill.way","answers":[]})", "steps[5].when.answers", "at least one"},
        {6, "call", R"({"calc":"fill.topup","inputs":{}})", "steps[6]", "call"},
    }));
    Json stage = good_stage();
    if (std::string_view(fault.value).empty())
        step(stage, fault.step).erase(fault.member);
    else
        step(stage, fault.step)[fault.member] = Json::parse(fault.value);
    // A log without its call also leaves a result nobody computes; that link is not what is tested here.
    if (std::string_view(fault.member) == "call" && fault.step == 4)
        step(stage, 5)["call"]["inputs"].erase("plateau");
    if (std::string_view(fault.member) == "id" || std::string_view(fault.member) == "kind")
        step(stage, 5).erase("when");
    check_one_error(stage, fault.place, fault.word);
}

TEST_CASE("a fault of the stage itself is named")
{
    struct Fault {
        char const* member;
        char const* value;
        char const* place;
        char const* word;
    };
    auto const fault = GENERATE(values<Fault>({
        {"format", "\"other/1\"", "format", "other/1"},
        {"brief", "\"Thirteen long\"", "brief", "longer than 12"},
        {"date", "\"25.11.2026\"", "date", "25.11.2026"},
        {"date", "\"2026-13-01\"", "date", "2026-13-01"},
        {"revision", "0", "revision", "outside"},
        {"revision", "1.5", "revision", "whole"},
        {"source", "null", "source", "text"},
        {"order", "2", "order", "count from 1"},
        {"extra", "1", "", "extra"},
    }));
    Json stage = good_stage();
    stage[fault.member] = Json::parse(fault.value);
    check_one_error(stage, fault.place, fault.word);
}

TEST_CASE("a step outside its stage's name is refused")
{
    Json stage = good_stage();
    step(stage, 6)["id"] = "purge.photo";
    check_one_error(stage, "steps[6].id", "must begin with its stage");
}

TEST_CASE("what only the whole can show is checked")
{
    struct Fault {
        std::size_t step;
        char const* member;
        char const* value;
        char const* place;
        char const* word;
    };
    auto const fault = GENERATE(values<Fault>({
        {0, "cautions", "[\"dogs\"]", "steps[0].cautions[0]", "dogs"},
        {0, "needs", "[\"fill.nothing\"]", "steps[0].needs[0]", "fill.nothing"},
        {0, "needs", "[\"stage:nowhere\"]", "steps[0].needs[0]", "stage:nowhere"},
        {6, "id", "\"fill.way\"", "steps[6].id", "twice"},
        {5, "when", R"({"step":"fill.way","answers":["bridge"]})", "steps[5].when.answers[0]", "bridge"},
        {5, "when", R"({"step":"fill.before","answers":["tee"]})", "steps[5].when.step", "no confirm"},
        {5, "call", R"({"calc":"fill.guess","inputs":{}})", "steps[5].call.calc", "fill.guess"},
        {5, "call", R"({"calc":"fill.topup","inputs":{"a":"profile:gas.colour"}})", "steps[5].call.inputs.a",
         "gas.colour"},
        {5, "call", R"({"calc":"fill.topup","inputs":{"a":["1 K","step:fill.nothing"]}})",
         "steps[5].call.inputs.a[1]", "fill.nothing"},
        {5, "call", R"({"calc":"fill.topup","inputs":{"a":"step:fill.photo"}})", "steps[5].call.inputs.a",
         "no single value"},
        {5, "call", R"({"calc":"fill.topup","inputs":{"a":"step:fill.log"}})", "steps[5].call.inputs.a",
         "no single value"},
        {5, "call", R"({"calc":"fill.topup","inputs":{"a":"step:fill.before.mass"}})",
         "steps[5].call.inputs.a", "computes nothing"},
        {5, "call", R"({"calc":"fill.topup","inputs":{"a":"series:fill.before"}})", "steps[5].call.inputs.a",
         "no log"},
        {2, "limit", R"({"max":"step:fill.nothing.x","source":"x","confidence":"confirmed"})",
         "steps[2].limit.max", "fill.nothing"},
    }));
    Json stage = good_stage();
    step(stage, 6).erase("needs"); // or reading the photo would be a circle as well
    step(stage, fault.step)[fault.member] = Json::parse(fault.value);
    check_one_error(stage, fault.place, fault.word);
}

TEST_CASE("steps that wait for one another in a circle are reported with the way round")
{
    SECTION("through needs")
    {
        Json stage = good_stage();
        step(stage, 1)["needs"] = {"fill.photo"};
        step(stage, 6)["needs"] = {"fill.seen"};
        check_one_error(stage, "steps[1].needs", "fill.seen waits for fill.photo waits for fill.seen");
    }
    SECTION("through the inputs of a calculation")
    {
        Json stage = good_stage();
        step(stage, 2)["needs"] = {"fill.topup"};
        check_one_error(stage, "steps[2].needs", "fill.topup waits for fill.before");
    }
    SECTION("a step that needs itself")
    {
        Json stage = good_stage();
        step(stage, 3)["needs"] = {"fill.serial"};
        check_one_error(stage, "steps[3].needs", "fill.serial waits for fill.serial");
    }
    SECTION("a step that needs its own stage")
    {
        Json stage = good_stage();
        step(stage, 3)["needs"] = {"stage:fill"};
        auto const loaded = load(stage);
        REQUIRE(loaded.report.errors.size() == 1);
        CHECK_THAT(loaded.report.errors[0].detail, Contains("stage:fill"));
    }
}

TEST_CASE("two stages of one id, one order or with a gap between are refused")
{
    Json first = good_stage();
    Json second = good_stage();
    second["order"] = 3;
    auto const loaded = files::read_checklist_texts(
        {{"01_a.json", first.dump()}, {"02_b.json", second.dump()}, {"cautions.json", good_cautions()}},
        known_calcs());
    CAPTURE(all_errors(loaded.report));
    CHECK_THAT(all_errors(loaded.report), Contains("02_b.json: order | 3 where 2 is due"));
    CHECK_THAT(all_errors(loaded.report), Contains("stage \"fill\" is there twice"));
    CHECK_THAT(all_errors(loaded.report), Contains("step \"fill.way\" is there twice"));
}

TEST_CASE("a folder without a stage says so")
{
    auto const loaded = files::read_checklist_texts({}, {});
    REQUIRE(loaded.report.errors.size() == 1);
    CHECK(loaded.report.errors[0].code == Error::Code::not_found);
}

TEST_CASE("a missing folder is an error, not an exception")
{
    auto const disk = disk::system_disk();
    auto const loaded = files::read_checklists(*disk, "/nowhere/at/all", {});
    CHECK_FALSE(loaded.report.ok());
    CHECK(loaded.checklists.stages.empty());
}

TEST_CASE("a caution there twice or misshapen is refused")
{
    auto const loaded =
        files::read_checklist_texts({{"01_fill.json", good_stage().dump()},
                                     {"cautions.json", R"({"format":"isochore.cautions/1","cautions":[
            {"id":"pressure","title":"A","text":"B"},{"id":"pressure","title":"A","text":"B"},7]})"}},
                                    known_calcs());
    CAPTURE(all_errors(loaded.report));
    CHECK_THAT(all_errors(loaded.report), Contains("cautions.json: cautions[1].id | caution \"pressure\""));
    CHECK_THAT(all_errors(loaded.report), Contains("cautions.json: cautions[2] | must be an object"));
}

TEST_CASE("a file that is not JSON names line and column")
{
    files::FileReport report;
    auto const stage = files::read_stage("{\"id\": }", "bad.json", report);
    REQUIRE(report.errors.size() == 1);
    CHECK_THAT(report.errors[0].where, Contains("bad.json:1:"));
    CHECK(stage.steps.empty());
}

TEST_CASE("values of every wrong type in every place are reported, never thrown")
{
    Json const wrong[] = {nullptr,
                          true,
                          -1,
                          1e308,
                          18446744073709551615ull,
                          "",
                          "\t",
                          "step:a.b.c.d",
                          Json::array(),
                          Json::array({Json::array()}),
                          Json::object(),
                          {{"a", {{"b", 1}}}}};
    Json const whole = good_stage().flatten();
    for (auto const& [pointer, value] : whole.items())
        for (auto const& other : wrong) {
            Json flat = whole;
            flat[pointer] = other.is_structured() ? Json() : other;
            Json stage = flat.unflatten();
            if (other.is_structured())
                stage[Json::json_pointer(pointer)] = other;
            CHECK_NOTHROW(load(stage));
        }
}

TEST_CASE("cut and garbled files are reported, never thrown")
{
    std::string const text = good_stage().dump(1);
    for (std::size_t n = 0; n < text.size(); n += 7) {
        files::FileReport report;
        CHECK_NOTHROW(files::read_stage(text.substr(0, n), "cut.json", report));
        CHECK_FALSE(report.ok());
    }
    std::mt19937 random(7); // the same garbage in every run
    for (int i = 0; i < 2000; ++i) {
        std::string garbled = text;
        for (int k = 0; k < 3; ++k)
            garbled[random() % garbled.size()] = static_cast<char>(random() % 256);
        CHECK_NOTHROW(files::read_checklist_texts({{"01.json", garbled}, {"cautions.json", garbled}}, {}));
    }
}

TEST_CASE("a chain of five thousand needs is followed without running out of stack")
{
    Json stage = good_stage();
    Json steps = Json::array();
    constexpr int count = 5000;
    for (int i = 0; i < count; ++i) {
        Json item = {{"id", "fill.s" + std::to_string(i)},
                     {"kind", "attach"},
                     {"title", "t"},
                     {"text", "t"},
                     {"source", "x"}};
        item["needs"] = {"fill.s" + std::to_string((i + 1) % count)};
        steps.push_back(item);
    }
    stage["steps"] = steps;
    auto const loaded = load(stage);
    REQUIRE(loaded.report.errors.size() == 1);
    CHECK_THAT(loaded.report.errors[0].detail, Contains("a circle"));
}

TEST_CASE("a file made to waste time and memory is refused in little of both")
{
    Json stage = good_stage();
    SECTION("a list without end")
    {
        Json needs = Json::array();
        for (int i = 0; i < 100000; ++i)
            needs.push_back("fill.s" + std::to_string(i));
        step(stage, 0)["needs"] = needs;
        check_one_error(stage, "steps[0].needs", "100000 items");
    }
    SECTION("more faults than anyone reads")
    {
        Json steps = Json::array();
        for (int i = 0; i < 5000; ++i)
            steps.push_back(i);
        stage["steps"] = steps;
        auto const loaded = load(stage);
        CHECK(loaded.report.errors.size() == 1000);
    }
    SECTION("circles through circles")
    {
        // Every step needs all later ones and the last needs all earlier ones: a great many ways round.
        Json steps = Json::array();
        constexpr int count = 400;
        for (int i = 0; i < count; ++i) {
            Json item = {{"id", "fill.s" + std::to_string(i)},
                         {"kind", "attach"},
                         {"title", "t"},
                         {"text", "t"},
                         {"source", "x"}};
            for (int k = 0; k < count; ++k)
                if (k != i)
                    item["needs"].push_back("fill.s" + std::to_string(k));
            steps.push_back(item);
        }
        stage["steps"] = steps;
        auto const loaded = load(stage);
        CHECK(loaded.report.errors.size() == 1000);
        for (auto const& error : loaded.report.errors)
            CHECK(error.detail.size() < 400);
    }
}
