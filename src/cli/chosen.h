#pragma once
#include "cli/command_line.h"
#include "cli/ledger_commands.h"
#include "cli/profile_commands.h"
#include "cli/stick_commands.h"
#include <CLI/CLI.hpp>
#include <iostream>

namespace isochore::cli {

/// All options of all commands: CLI11 writes into them, the chosen command's callback reads them.
struct Chosen {
    Places places;
    JobOptions job;
    ProfileOptions profile;
    StickOptions stick;
    LedgerOptions ledger;
    WindowCommands::Options window;
    std::vector<std::string> files;
    std::string file;
    bool list = false;
    int code = 0;
    std::ostream* out = &std::cout;
};

/// Under the help of each family.
inline constexpr char const* exit_codes =
    "Exit codes: 0 done, 1 something was found wrong, 2 could not be done.";

/// Each family of commands adds itself; `chosen` must outlive the parse.
void add_ledger_commands(CLI::App& app, Chosen& chosen);
void add_job_commands(CLI::App& app, Chosen& chosen);
void add_profile_commands(CLI::App& app, Chosen& chosen);
void add_stick_commands(CLI::App& app, Chosen& chosen);

} // namespace isochore::cli
