#include "cli/chosen.h"
#include <iostream>

namespace isochore::cli {
namespace {

void add_calc(CLI::App& app, Chosen& c)
{
    auto* calc = app.add_subcommand("calc", "Answer calculations: JSON Lines in, one line each out");
    calc->add_flag("--list", c.list, "Name all calculations");
    calc->callback(
        [&c] { c.code = c.list ? calc_list_command(std::cout) : calc_command(std::cin, std::cout); });
}

void add_files(CLI::App& app, Chosen& c)
{
    auto* check =
        app.add_subcommand("check", "Check checklist and profile files, every fault with its place");
    check->add_option("files", c.files, "Files; without any, all of the library");
    check->callback([&c] { c.code = check_command(c.places, c.files, std::cout); });
    auto* verify = app.add_subcommand("verify", "Verify a sealed record");
    verify->add_option("record", c.file, "The record's JSON file")->required();
    verify->callback([&c] { c.code = verify_command(c.file, std::cout); });
}

void add_windows(CLI::App& app, Chosen& c, WindowCommands const& windows)
{
    auto const look = [&c](CLI::App* command) {
        command->add_option("--theme", c.window.theme, "print, blueprint or plain");
        command->add_option("--dpi", c.window.dpi, "Pixels per inch");
        command->add_option("--width", c.window.width);
        command->add_option("--height", c.window.height);
    };
    auto* window = app.add_subcommand("window", "Open the window (also without any command)");
    auto* demo = app.add_subcommand("demo", "Open the window with the demo outage");
    auto* rehearse = app.add_subcommand("rehearse", "Drive the real window by a script");
    for (auto* command : {window, demo, rehearse})
        look(command);
    rehearse->add_option("script", c.window.script)->required();
    rehearse->add_option("--out", c.window.out, "Folder for what the script leaves")->required();
    rehearse->add_flag("--offscreen", c.window.offscreen, "Without a display");
    rehearse->add_option("--pull-stick", c.window.pull_stick,
                         "Pull the stick OUT/stick while its N-th file is written; `later` puts it in again");
    window->callback([&c, &windows] { c.code = windows.window(c.window); });
    demo->callback([&c, &windows] {
        c.window.demo = true;
        c.code = windows.window(c.window);
    });
    rehearse->callback([&c, &windows] { c.code = windows.rehearse(c.window); });
}

/// Of a family of commands none was named, or a word that none of them is called; empty where that is not
/// what is wrong.
std::string no_command(CLI::App const& app)
{
    for (auto const* family : app.get_subcommands()) {
        auto left = family->remaining();
        if (left.empty())
            left = app.remaining(); // what no family takes falls through to the program
        if (!family->get_subcommands().empty() || family->get_subcommands({}).empty())
            continue;
        std::string known;
        for (auto const* command : family->get_subcommands({}))
            known += (known.empty() ? "" : ", ") + command->get_name();
        if (left.empty())
            return family->get_name() + " needs a command: " + known;
        return "\"" + left.front() + "\" is no command of " + family->get_name() + "; it has " + known;
    }
    return {};
}

/// "profile compare": what was being read when the line went wrong.
std::string command_read(CLI::App const& app)
{
    std::string words;
    for (auto const* at = &app; !at->get_subcommands().empty();) {
        at = at->get_subcommands().front();
        words += (words.empty() ? "" : " ") + at->get_name();
    }
    return words;
}

} // namespace

int run_command_line(int argc, char const* const* argv, WindowCommands const& windows)
{
    Chosen c;
    CLI::App app{"Isochore: a commissioning assistant for the outage at an SF6 breaker"};
    app.require_subcommand(0, 1);
    app.fallthrough();
    app.add_option("--share", c.places.share, "Folder with checklists, profiles and assets");
    app.add_option("--data", c.places.data, "Folder with the journal");
    app.parse_complete_callback([&c] { c.window.places = c.places; });
    add_calc(app, c);
    add_files(app, c);
    add_job_commands(app, c);
    add_profile_commands(app, c);
    add_stick_commands(app, c);
    add_ledger_commands(app, c);
    add_windows(app, c, windows);
    try {
        app.parse(argc, argv);
    } catch (CLI::ParseError const& e) {
        if (e.get_exit_code() == 0) // help
            return app.exit(e);
        auto const command = command_read(app);
        if (auto const none = no_command(app); !none.empty())
            std::cerr << none << '\n';
        else
            std::cerr << (command.empty() ? "" : command + ": ") << e.what() << "; see isochore "
                      << (command.empty() ? "" : command + " ") << "--help\n";
        return 2;
    }
    if (app.get_subcommands().empty())
        return windows.window(c.window);
    return c.code;
}

} // namespace isochore::cli
