#include "window/fake_program.h"
#include "window/rehearsal.h"
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

using namespace isochore;
using window::parse_rehearsal;

namespace {

struct Outcome {
    Result<window::RehearsalReport> result;
    demo::FakeProgram program;
};

std::filesystem::path folder()
{
    auto const path = std::filesystem::temp_directory_path() / "isochore-rehearsal-test";
    std::filesystem::create_directories(path);
    return path;
}

Result<window::RehearsalReport> rehearse(demo::FakeProgram& program, std::string const& script)
{
    window::WindowOptions options;
    options.driver = "offscreen";
    auto result = window::run_rehearsal(program, script, options, folder());
    INFO((result ? "" : result.error().where + ": " + result.error().detail));
    if (!result)
        UNSCOPED_INFO(result.error().where + ": " + result.error().detail);
    return result;
}

std::string detail_of(Result<window::RehearsalReport> const& result)
{
    return result ? "" : result.error().detail;
}

} // namespace

TEST_CASE("a script is read line by line, with comments and quoted names", "[window][rehearsal]")
{
    auto const commands = parse_rehearsal("# hello\n\n  tap action.record  \nexpect step.title Bring the "
                                          "gas\ntap \"unit.bar g\"\ntype 4.61\nsize 800 1280\n");
    REQUIRE(commands);
    REQUIRE(commands->size() == 5);
    CHECK((*commands)[0].verb == "tap");
    CHECK((*commands)[0].id == "action.record");
    CHECK((*commands)[0].line == 3);
    CHECK((*commands)[1].rest == "Bring the gas");
    CHECK((*commands)[2].id == "unit.bar g");
    CHECK((*commands)[3].rest == "4.61");
}

TEST_CASE("a faulty line is named", "[window][rehearsal]")
{
    for (char const* line : {"tip action.record", "tap", "tap a b", "size 800", "size a b", "drag x 5",
                             "wait soon", "type", "finger now"}) {
        INFO(line);
        auto const commands = parse_rehearsal(std::string("finger\n") + line);
        REQUIRE_FALSE(commands);
        CHECK(commands.error().where == "rehearsal line 2");
        CHECK(commands.error().detail.find(line) != std::string::npos);
    }
}

TEST_CASE("a rehearsal taps, types, holds and draws through the true window", "[window][rehearsal]")
{
    demo::FakeProgram program;
    auto const result = rehearse(program, R"(
expect step.title Bring the gas
tap field.pressure
expect entry.label Gauge now
expect-disabled key.enter
type 4.97
tap key.backspace
type 8
expect entry.typed 4.98
expect-no action.record
tap key.enter
expect-no entry.label
expect field.pressure.value 4.98
shot fill.png
mouse
tap action.record
finger
expect heading Review and sign
draw pad.signature
hold action.seal
expect sealed.0 Sealed
log sealed.0
size 800 1280
theme blueprint
shot sealed-upright.png
)");
    REQUIRE(result);
    CHECK(result->shots.size() == 2);
    for (auto const& shot : result->shots)
        CHECK(std::filesystem::file_size(shot) > 5000);
    REQUIRE(result->logged.size() == 1);
    CHECK(result->logged[0].rfind("sealed.0: Sealed", 0) == 0);
    REQUIRE_FALSE(program.strokes.empty());
    CHECK(program.strokes.back().size() > 5);
    CHECK(program.recorded == "4.98");
}

TEST_CASE("words are typed on the keyboard of the sheet, with capitals and signs", "[window][rehearsal]")
{
    demo::FakeProgram program;
    program.entry = program.text = true;
    REQUIRE(rehearse(program, "type Öl 2-b\ntap key.enter\n"));
    CHECK(program.recorded == "Öl 2-b"); // a word begins with a capital, and only after a space
}

TEST_CASE("a scanner types and ends with Enter", "[window][rehearsal]")
{
    demo::FakeProgram program;
    program.entry = program.text = true;
    REQUIRE(rehearse(program, "scan SN-0815 Größe 7 and more than thirty-two bytes of it\n"));
    CHECK(program.recorded == "SN-0815 Größe 7 and more than thirty-two bytes of it");
    program.entry = true;
    REQUIRE(rehearse(program, "press cancel\nexpect-no entry.label\n"));
}

TEST_CASE("a row out of sight is dragged into view; a fling coasts to a stop", "[window][rehearsal]")
{
    demo::FakeProgram program;
    program.current = "jump";
    REQUIRE(rehearse(program, "fling row.3 0 -40\ndrag row.20 0 -20\ntap row.33\nexpect step.title Bring\n"));
    REQUIRE(program.seen.size() == 1);
    CHECK(program.seen.front().id == "33");
}

TEST_CASE("what is not as expected ends the rehearsal with a reason and near names", "[window][rehearsal]")
{
    demo::FakeProgram program;
    auto result = rehearse(program, "tap action.recrd\n");
    REQUIRE_FALSE(result);
    CHECK(result.error().where == "rehearsal line 1");
    CHECK(detail_of(result).find("action.record") != std::string::npos);
    result = rehearse(program, "expect step.title Empty the gas\n");
    REQUIRE_FALSE(result);
    CHECK(detail_of(result).find("Bring the gas") != std::string::npos);
    CHECK_FALSE(rehearse(program, "expect-no step.title\n"));
    CHECK_FALSE(rehearse(program, "expect-disabled action.record\n"));
    CHECK_FALSE(rehearse(program, "hold action.record\n"));
    CHECK_FALSE(rehearse(program, "press space\n"));
    program.current = "confirm";
    CHECK_FALSE(rehearse(program, "tap action.record\n"));
    CHECK(program.seen.empty());
}
