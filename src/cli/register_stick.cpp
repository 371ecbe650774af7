#include "cli/chosen.h"
#include <iostream>

namespace isochore::cli {
namespace {

CLI::App* stick_command(CLI::App& family, char const* name, char const* purpose, Chosen& c,
                        int (*run)(Places const&, StickOptions const&, std::ostream&))
{
    auto* command = family.add_subcommand(name, purpose);
    command->add_flag("--json", c.stick.json, "Print JSON");
    command->callback([&c, run] { c.code = run(c.places, c.stick, std::cout); });
    return command;
}

void add_trust(CLI::App* command, Chosen& c)
{
    command->add_option("folder", c.stick.folder, "Where the stick is mounted, or a folder")->required();
    command->add_option("--key", c.stick.keys, "Public key to trust beside this tablet's own");
    command->add_option("--trust", c.stick.trust, "File of trusted keys");
}

} // namespace

void add_stick_commands(CLI::App& app, Chosen& c)
{
    auto* family = app.add_subcommand("stick", "Settings sticks");
    family->require_subcommand(1);
    add_trust(stick_command(*family, "list", "The sets on it", c, stick_list_command), c);
    auto* verify =
        stick_command(*family, "verify", "Verify a set and read its files", c, stick_verify_command);
    add_trust(verify, c);
    verify->add_option("--set", c.stick.set, "S0000001 …; without it the newest that holds");
    auto* write = stick_command(*family, "write", "Write an outage's settings", c, stick_write_command);
    write->add_option("job", c.stick.job, "Name of the outage")->required();
    write->add_option("folder", c.stick.folder, "Where the stick is mounted, or a folder")->required();
    write->add_option("--who", c.stick.who, "Who makes the entry");
    stick_command(*family, "targets", "Removable volumes, and why others are refused", c,
                  [](Places const&, StickOptions const& o, std::ostream& out) {
                      return stick_targets_command(o, out);
                  });
}

} // namespace isochore::cli
