#include "cli_support.h"
#include <catch2/catch.hpp>

using namespace cli_test;

namespace {

/// The lines answered, each parsed: a line that is no JSON comes back as null and fails what asks of it.
std::vector<Json> answers(std::string const& asked)
{
    std::istringstream in(asked);
    std::ostringstream out;
    REQUIRE(cli::calc_command(in, out) == 0);
    std::vector<Json> all;
    std::istringstream lines(out.str());
    for (std::string line; std::getline(lines, line);) {
        auto parsed = read_json(line, "answer");
        all.push_back(parsed ? *parsed : Json());
    }
    return all;
}

std::string density(std::string const& id)
{
    return R"({"id":")" + id +
           R"(","calc":"gas.density","inputs":{"gas":"SF6","temperature":"20 degC","pressure":"0.62 MPa abs"}})"
           "\n";
}

} // namespace

TEST_CASE("a bad line is answered with an error line and the next one is still answered")
{
    auto const all = answers("{\"id\":\"a\",\n" + density("b") + "[]\n\xff\xfe\n\"\"\n" + density("c"));
    REQUIRE(all.size() == 6);
    for (std::size_t i : {0u, 2u, 3u, 4u}) {
        CAPTURE(i);
        REQUIRE(all[i].is_object());
        CHECK(all[i]["ok"] == false);
        CHECK_FALSE(all[i]["error"]["detail"].get<std::string>().empty());
    }
    CHECK(all[1]["ok"] == true);
    CHECK(all[5]["ok"] == true);
    CHECK(all[1]["results"] == all[5]["results"]);
}

TEST_CASE("a calculation nobody knows is answered with an error line that names it")
{
    auto const all = answers(R"({"id":"x","calc":"gas.colour","inputs":{}})");
    REQUIRE(all.size() == 1);
    CHECK(all[0]["ok"] == false);
    CHECK(all[0]["id"] == "x");
    CHECK(all[0].dump().find("gas.colour") != std::string::npos);
}

TEST_CASE("answers come in the order of the questions, empty lines ask nothing")
{
    std::string asked;
    for (int i = 0; i < 40; ++i)
        asked += (i % 7 == 3 ? "\n  \r\n" : "") + density("n" + std::to_string(i));
    auto const all = answers(asked);
    REQUIRE(all.size() == 40);
    for (std::size_t i = 0; i < all.size(); ++i)
        CHECK(all[i]["id"] == "n" + std::to_string(i));
}

TEST_CASE("a bare number is refused with the place of the input")
{
    auto const all = answers(
        R"({"id":"a","calc":"gas.density","inputs":{"gas":"SF6","temperature":20,"pressure":"0.62 MPa abs"}})");
    REQUIRE(all.size() == 1);
    CHECK(all[0]["ok"] == false);
    CHECK(all[0]["error"]["where"] == "inputs.temperature");
}

TEST_CASE("the list of calculations names each with its purpose")
{
    std::ostringstream out;
    REQUIRE(cli::calc_list_command(out) == 0);
    for (char const* name : {"gas.density", "fill.topup", "input.resistor", "ct.taps", "kit.plan"})
        CHECK(out.str().find(name) != std::string::npos);
}
