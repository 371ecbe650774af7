#include "cli/command_line.h"
#include "cli_support.h"
#include <catch2/catch.hpp>
#include <iostream>

using namespace cli_test;

namespace {

/// One run of the program's command line, with what it prints caught.
Said run(std::vector<std::string> const& words, cli::WindowCommands const& windows = {})
{
    std::vector<char const*> argv = {"isochore"};
    for (auto const& word : words)
        argv.push_back(word.c_str());
    std::ostringstream out;
    auto* const cout = std::cout.rdbuf(out.rdbuf());
    auto* const cerr = std::cerr.rdbuf(out.rdbuf());
    int const code = cli::run_command_line(static_cast<int>(argv.size()), argv.data(), windows);
    std::cout.rdbuf(cout);
    std::cerr.rdbuf(cerr);
    return {code, out.str()};
}

} // namespace

TEST_CASE("a command line that cannot be read ends with 2 and names what is wrong")
{
    for (auto const& words :
         std::vector<std::vector<std::string>>{{"no-such-command"},
                                               {"job"},
                                               {"job", "enter"},
                                               {"profile", "release", "kd-41"},
                                               {"profile", "release", "kd-41", "--who", "x", "--to", "gold"},
                                               {"stick", "write", "only-a-job"},
                                               {"calc", "--no-such-option"}}) {
        CAPTURE(words);
        auto const said = run(words);
        CHECK(said.code == 2);
        CHECK_FALSE(said.text.empty());
    }
}

TEST_CASE("a command that a family does not have is named, with those it has")
{
    for (char const* family : {"profile", "stick", "ledger", "job"}) {
        auto const said = run({family, "frobnicate"});
        CAPTURE(family, said.text);
        CHECK(said.code == 2);
        CHECK(said.has("\"frobnicate\" is no command of " + std::string(family)));
        CHECK(said.has("it has "));
    }
    CHECK(run({"profile", "frobnicate"}).has("compare"));
}

TEST_CASE("a line that lacks something says which command lacks what, and where its help is")
{
    for (char const* family : {"profile", "stick", "ledger", "job"}) {
        auto const said = run({family});
        CAPTURE(family, said.text);
        CHECK(said.code == 2);
        CHECK(said.has(std::string(family) + " needs a command: "));
    }
    auto const said = run({"profile", "compare", "kd-41"});
    CHECK(said.code == 2);
    CHECK(said.has("profile compare: b is required; see isochore profile compare --help"));
    CHECK(run({"stick", "verify", "x", "--no-such"}).has("stick verify: "));
}

TEST_CASE("help of every command of profiles and sticks says the exit codes")
{
    for (auto const& words : std::vector<std::vector<std::string>>{{"profile"},
                                                                   {"stick"},
                                                                   {"profile", "check"},
                                                                   {"profile", "list"},
                                                                   {"profile", "export"},
                                                                   {"stick", "write"},
                                                                   {"stick", "verify"},
                                                                   {"stick", "unit"}}) {
        auto all = words;
        all.push_back("--help");
        auto const said = run(all);
        CAPTURE(all);
        CHECK(said.code == 0);
        CHECK(said.has("Exit codes: 0 done, 1 something was found wrong, 2 could not be done."));
    }
    CHECK(run({"stick", "unit", "--help"}).has("sensor.serial *"));
}

TEST_CASE("help names every family of commands and ends with 0")
{
    auto const said = run({"--help"});
    CHECK(said.code == 0);
    for (char const* family : {"calc", "check", "verify", "job", "profile", "stick", "window", "rehearse"})
        CHECK(said.has(family));
    auto const stick = run({"stick", "--help"});
    for (char const* command : {"list", "write", "verify", "targets"})
        CHECK(stick.has(command));
}

TEST_CASE("folders given before or behind the command reach it, and its exit code comes back")
{
    test::TemporaryFolder folder;
    std::string const share = ISOCHORE_SOURCE_DIR, data = (folder / "data").string();
    CHECK(run({"--share", share, "--data", data, "job", "list"}).code == 0);
    CHECK(std::filesystem::exists(folder / "data/journal.db"));
    CHECK(run({"job", "verify", "nowhere", "--share", share, "--data", data}).code == 2);
    auto const list = run({"--share", share, "profile", "list", "spring", "--json"});
    CHECK(list.code == 0);
    CHECK_FALSE(list.json()["profiles"].empty());
    CHECK(run({"--share", share, "profile", "compare", "kd-41", "nq-36"}).code == 1);
    CHECK(run({"--share", share, "profile", "compare", "kd-41", "kd-41"}).code == 0);
}

TEST_CASE("without a command the window opens with the folders given")
{
    cli::WindowCommands windows;
    std::string seen;
    windows.window = [&seen](auto const& o) {
        seen = o.places.data;
        return 0;
    };
    CHECK(run({"--data", "/nowhere"}, windows).code == 0);
    CHECK(seen == "/nowhere");
}
