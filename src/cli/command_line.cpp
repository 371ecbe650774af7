#include "cli/command_line.h"
#include <CLI/CLI.hpp>
#include <iostream>

namespace isochore::cli {
namespace {

/// All options of all commands: CLI11 writes into them, the chosen command's callback reads them.
struct Chosen {
    Places places;
    JobOptions job;
    WindowCommands::Options window;
    std::vector<std::string> files;
    std::string file;
    bool list = false;
    int code = 0;
};

void add_calc(CLI::App& app, Chosen& c)
{
    auto* calc = app.add_subcommand("calc", "Answer calculations: JSON Lines in, one line each out");
    calc->add_flag("--list", c.list, "Name all calculations");
    calc->callback([&c] { c.code = c.list ? calc_list_command(std::cout) : calc_command(std::cin, std::cout); });
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

CLI::App* job_command(CLI::App& job, char const* name, char const* purpose, Chosen& c, bool needs_job,
                      int (*run)(Places const&, JobOptions const&, std::ostream&))
{
    auto* command = job.add_subcommand(name, purpose);
    if (needs_job)
        command->add_option("job", c.job.job, "Name of the outage")->required();
    command->add_option("--who", c.job.who, "Who makes the entry");
    command->add_flag("--json", c.job.json, "Print JSON");
    command->callback([&c, run] { c.code = run(c.places, c.job, std::cout); });
    return command;
}

void add_job(CLI::App& app, Chosen& c)
{
    auto* job = app.add_subcommand("job", "Outages from scripts, by the rules of the window");
    job->require_subcommand(1);
    job_command(*job, "list", "All outages", c, false, job_list_command);
    auto* create = job_command(*job, "create", "Begin an outage", c, false, job_create_command);
    create->add_option("--profile", c.job.profile, "Id of the breaker profile")->required();
    create->add_option("--fact", c.job.facts, "NAME=VALUE: station, bay, serial, job_no, window, …");
    create->add_option("--crew", c.job.crew, "Names of the crew");
    auto* enter = job_command(*job, "enter", "Record a step: a value, an answer, a result or a reading", c,
                              true, job_enter_command);
    enter->add_option("step", c.job.step)->required();
    enter->add_option("value", c.job.value, "Typed value, or the answer's id");
    enter->add_option("--reading", c.job.values, "One reading of a log, a value a column");
    enter->add_option("--at", c.job.at_s, "Seconds since the log began");
    enter->add_option("--reader", c.job.reader);
    enter->add_option("--doer", c.job.doer);
    enter->add_flag("--sure", c.job.confirmed, "Keep an unlikely value");
    enter->add_flag("--restart", c.job.restart, "Begin the log anew");
    auto* correct = job_command(*job, "correct", "Record a step again; what used it opens again", c, true,
                                job_enter_command);
    correct->add_option("step", c.job.step)->required();
    correct->add_option("value", c.job.value);
    correct->add_flag("--sure", c.job.confirmed);
    correct->add_option("--reader", c.job.reader);
    correct->add_option("--doer", c.job.doer);
    auto* defer = job_command(*job, "defer", "Put a step off", c, true, job_defer_command);
    defer->add_option("step", c.job.step)->required();
    defer->add_option("--reason", c.job.reason)->required();
    defer->add_option("--owner", c.job.owner)->required();
    defer->add_option("--before", c.job.before, "Step it must be closed before");
    auto* override_command =
        job_command(*job, "override", "Override a failed or undecided step", c, true, job_override_command);
    override_command->add_option("step", c.job.step)->required();
    override_command->add_option("--reason", c.job.reason)->required();
    job_command(*job, "undo", "Take back the last entry, as a new entry", c, true, job_undo_command);
    job_command(*job, "status", "Where the outage stands", c, true, job_status_command);
    auto* history = job_command(*job, "history", "Its entries", c, true, job_history_command);
    history->add_option("--step", c.job.step, "Only those of one step");
    auto* save = job_command(*job, "export", "Copy the whole store, consistent and verified", c, false,
                             job_export_command);
    save->add_option("file", c.job.file)->required();
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
    window->callback([&c, &windows] { c.code = windows.window(c.window); });
    demo->callback([&c, &windows] {
        c.window.demo = true;
        c.code = windows.window(c.window);
    });
    rehearse->callback([&c, &windows] { c.code = windows.rehearse(c.window); });
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
    add_job(app, c);
    add_windows(app, c, windows);
    try {
        app.parse(argc, argv);
    } catch (CLI::ParseError const& e) {
        return app.exit(e) == 0 ? 0 : 2;
    }
    if (app.get_subcommands().empty())
        return windows.window(c.window);
    return c.code;
}

} // namespace isochore::cli
