#include "cli/chosen.h"
#include "files/profile_library.h"
#include <iostream>

namespace isochore::cli {
namespace {

/// "mechanism" of "breaker.mechanism", "cycles" of "rating.interrupting_cycles".
std::string facet_word(std::string const& path)
{
    return path.substr(path.find_last_of("._") + 1);
}

std::string facet_option(std::string const& path)
{
    return "--" + (path == "gas.species" ? std::string("gas") : facet_word(path));
}

CLI::App* profile_command(CLI::App& family, char const* name, char const* purpose, Chosen& c,
                          int (*run)(Places const&, ProfileOptions const&, std::ostream&))
{
    auto* command = family.add_subcommand(name, purpose);
    command->add_option("--folder", c.profile.folder, "Folder of profiles; without it the library's");
    command->add_flag("--json", c.profile.json, "Print JSON");
    command->callback([&c, run] { c.code = run(c.places, c.profile, std::cout); });
    return command;
}

/// What narrows a list: words, and facets by name.
void add_narrowing(CLI::App* command, Chosen& c)
{
    command->add_option("words", c.profile.names, "Only those in which every word is found");
    command->add_flag("--all", c.profile.all, "Every revision");
    for (auto const& facet : files::facets({})) {
        auto const path = facet.path;
        command
            ->add_option_function<std::string>(
                facet_option(path), [&c, path](std::string const& value) { c.profile.facets[path] = value; },
                "Only this " + facet_word(path))
            ->type_name("VALUE");
    }
}

} // namespace

void add_profile_commands(CLI::App& app, Chosen& c)
{
    auto* family = app.add_subcommand("profile", "Profiles of breaker models");
    family->require_subcommand(1);
    family->footer(exit_codes);
    constexpr char const* named = "Id, id:revision, or a file";
    auto* list = profile_command(*family, "list", "All models", c, profile_list_command);
    add_narrowing(list, c);
    list->add_flag("--counts", c.profile.counts, "How many each value of each facet would leave");
    auto* check = profile_command(*family, "check", "Name every fault", c, profile_check_command);
    check->add_option("profiles", c.profile.names, "Ids or files; without any, all of the folder");
    auto* show = profile_command(*family, "show", "Values with their sources", c, profile_show_command);
    show->add_option("profile", c.profile.profile, named)->required();
    auto* derive =
        profile_command(*family, "derive", "What follows from the values", c, profile_derive_command);
    derive->add_option("profile", c.profile.profile, named)->required();
    auto* compare =
        profile_command(*family, "compare", "Differences of two; exit code 1 where a value differs", c,
                        profile_compare_command);
    compare->add_option("a", c.profile.profile, named)->required();
    compare->add_option("b", c.profile.other, named)->required();
    auto* release = profile_command(*family, "release", "Take a profile one step further, signed", c,
                                    profile_release_command);
    release->add_option("profile", c.profile.profile, named)->required();
    release->add_option("--to", c.profile.to, "checked, released (without it) or withdrawn")
        ->check(CLI::IsMember({"checked", "released", "withdrawn"}));
    release->add_option("--who", c.profile.who, "Who answers for it")->required();
    release->add_option("--pin-file", c.profile.pin_file,
                        "File whose first line is that person's PIN; - for standard input");
    release->add_option("--pin-fd", c.profile.pin_fd, "Open descriptor with the PIN instead")
        ->check(CLI::NonNegativeNumber)
        ->excludes("--pin-file");
    auto* export_to = profile_command(*family, "export", "Profiles into a folder, each read back", c,
                                      profile_export_command);
    export_to->add_option("target", c.profile.target, "The folder; they go into its folder profiles")
        ->required();
    add_narrowing(export_to, c);
    auto* import = profile_command(*family, "import", "Drafts from a table, or profiles from a folder", c,
                                   profile_import_command);
    import->add_option("source", c.profile.source, "A CSV file of nameplates, or a folder of profiles")
        ->required();
    import->add_option("--who", c.profile.who, "Who writes the drafts");
    import->add_flag("--complete", c.profile.complete, "Add what standards say, unconfirmed");
    import->add_flag("--replace", c.profile.replace, "Put drafts in the place of drafts");
}

} // namespace isochore::cli
