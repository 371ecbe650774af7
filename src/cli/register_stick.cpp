#include "cli/chosen.h"
#include "media/unit_values.h"
#include <algorithm>
#include <string>

namespace isochore::cli {
namespace {

CLI::App* stick_command(CLI::App& family, char const* name, char const* purpose, Chosen& c,
                        int (*run)(Places const&, StickOptions const&, std::ostream&))
{
    auto* command = family.add_subcommand(name, purpose);
    command->add_flag("--json", c.stick.json, "Print JSON");
    command->callback([&c, run] { c.code = run(c.places, c.stick, *c.out); });
    return command;
}

void add_trust(CLI::App* command, Chosen& c)
{
    command->add_option("folder", c.stick.folder, "Where the stick is mounted, or a folder")->required();
    command->add_option("--key", c.stick.keys, "Public key to trust beside this tablet's own");
    command->add_option("--trust", c.stick.trust, "File of trusted keys");
}

/// The paths a value may have, a line each.
std::string unit_values()
{
    std::string text;
    for (auto const& field : media::unit_fields()) {
        std::string line = "  " + std::string(field.path) + (field.required ? " *" : "");
        line.resize(std::max<std::size_t>(line.size() + 1, 28), ' ');
        text += line + std::string(field.label) + "\n";
    }
    return text;
}

void add_units(CLI::App& family, Chosen& c)
{
    stick_command(family, "units", "The units this tablet knows", c, stick_units_command);
    auto* unit =
        stick_command(family, "unit", "Prepare a unit, change one, or show one with what does not agree", c,
                      stick_unit_command);
    unit->add_option("id", c.stick.unit,
                     "u1 …; without it a new one, without --profile and --value only shown");
    unit->add_option("--profile", c.stick.profile, "Its breaker model");
    unit->add_option("--value", c.stick.values, "PATH=TEXT, as often as needed");
    unit->add_option("--who", c.stick.who, "Who enters it");
    unit->footer("Values, those marked * are needed:\n" + unit_values() + exit_codes);
    auto* write =
        stick_command(family, "write-units", "Write a set with chosen units", c, stick_write_units_command);
    write->add_option("folder", c.stick.folder, "Where the stick is mounted, or a folder")->required();
    write->add_option("--unit", c.stick.units, "desk:u1, outage:JOB …")->required();
    auto* import = stick_command(family, "import", "Take a verified set over, whole or not at all", c,
                                 stick_import_command);
    import->add_option("folder", c.stick.folder, "Where the stick is mounted, or a folder")->required();
    import->add_option("--set", c.stick.set, "S0000001 …; without it the newest that holds");
    import->add_option("--who", c.stick.who, "Who takes it over");
    import->add_flag("--stale", c.stick.stale, "Also when a newer set of the same key was seen");
    auto* back = stick_command(family, "readback", "Compare what a unit shows with what was loaded", c,
                               stick_readback_command);
    back->add_option("job", c.stick.job, "Name of the outage")->required();
    back->add_option("--from", c.stick.folder, "Folder of the stick the unit has written");
    back->add_option("--value", c.stick.values, "PATH=TEXT as the unit shows it, as often as needed");
    back->add_flag("--record", c.stick.record, "Enter the comparison in the outage");
    back->add_option("--who", c.stick.who, "Who makes the entry");
    back->add_option("--reader", c.stick.reader, "Who read out");
    back->add_option("--doer", c.stick.doer, "Who typed");
}

/// A PIN on the command line could be read by others: it is the first line of standard input.
void add_key_change(CLI::App& family, char const* name, char const* purpose, Chosen& c,
                    int (*run)(Places const&, StickOptions const&, std::ostream&))
{
    auto* command = family.add_subcommand(name, purpose);
    command->add_flag("--json", c.stick.json, "Print JSON");
    command->add_option("key", c.stick.key, "Public key, 64 hex digits")->required();
    command->add_option("--who", c.stick.who, "Who answers for it; the PIN is read from standard input")
        ->required();
    if (run == stick_trust_command)
        command->add_option("--name", c.stick.name, "Whose key it is")->required();
    command->callback([&c, run] {
        std::getline(std::cin, c.stick.pin);
        c.code = run(c.places, c.stick, *c.out);
    });
}

} // namespace

void add_stick_commands(CLI::App& app, Chosen& c)
{
    auto* family = app.add_subcommand("stick", "Settings sticks");
    family->require_subcommand(1);
    family->footer(exit_codes);
    add_trust(stick_command(*family, "list", "The sets on it", c, stick_list_command), c);
    auto* verify =
        stick_command(*family, "verify", "Verify a set and read its files", c, stick_verify_command);
    add_trust(verify, c);
    verify->add_option("--set", c.stick.set, "S0000001 …; without it the newest that holds");
    auto* write = stick_command(*family, "write", "Write an outage's settings", c, stick_write_command);
    write->add_option("job", c.stick.job, "Name of the outage")->required();
    write->add_option("folder", c.stick.folder, "Where the stick is mounted, or a folder")->required();
    write->add_option("--who", c.stick.who, "Who makes the entry");
    add_units(*family, c);
    stick_command(*family, "keys", "The keys this tablet trusts", c, stick_keys_command);
    add_key_change(*family, "trust", "Trust a key", c, stick_trust_command);
    add_key_change(*family, "distrust", "Stop trusting a key", c, stick_distrust_command);
    auto* release = stick_command(*family, "release", "Flush a stick and unmount it where allowed", c,
                                  [](Places const&, StickOptions const& o, std::ostream& out) {
                                      return stick_release_command(o, out);
                                  });
    release->add_option("folder", c.stick.folder, "Where the stick is mounted")->required();
    auto* check = stick_command(
        *family, "check", "Fill a part of it and read it back", c,
        [](Places const&, StickOptions const& o, std::ostream& out) { return stick_check_command(o, out); });
    check->add_option("folder", c.stick.folder, "Where the stick is mounted, or a folder")->required();
    check->add_option("--megabytes", c.stick.megabytes, "How much is written; it proves no more")
        ->check(CLI::Range(1, 2'000'000));
    stick_command(*family, "targets", "Removable volumes, and why others are refused", c,
                  [](Places const&, StickOptions const& o, std::ostream& out) {
                      return stick_targets_command(o, out);
                  });
}

} // namespace isochore::cli
