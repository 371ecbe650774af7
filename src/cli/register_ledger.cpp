#include "cli/chosen.h"

namespace isochore::cli {
namespace {

CLI::App* ledger_command(CLI::App& family, char const* name, char const* purpose, Chosen& c,
                         int (*run)(Places const&, LedgerOptions const&, std::ostream&))
{
    auto* command = family.add_subcommand(name, purpose);
    command->add_flag("--json", c.ledger.json, "Print JSON");
    command->callback([&c, run] { c.code = run(c.places, c.ledger, *c.out); });
    return command;
}

void add_who(CLI::App* command, Chosen& c)
{
    command->add_option("--who", c.ledger.who, "Who makes the entry")->required();
}

void add_typed(CLI::App* command, Chosen& c)
{
    auto& typed = c.ledger.typed;
    command->add_option("--mass", typed.mass, "\"52.2 kg\", \"115 lb\"");
    command->add_option("--from", typed.from, "Where the gas comes from, by name");
    command->add_option("--to", typed.to, "Where it goes, by name");
    command->add_option("--day", typed.day, "2026-11-25; without it today");
    command->add_option("--note", typed.note, "Delivery note, reason");
    add_who(command, c);
}

void add_target(CLI::App* command, Chosen& c)
{
    command->add_option("entry", c.ledger.entry, "Its number, as `ledger entries` lists it")->required();
    command->add_option("--reason", c.ledger.reason, "Why; it stays to be seen")->required();
}

} // namespace

void add_ledger_commands(CLI::App& app, Chosen& c)
{
    auto* family = app.add_subcommand("ledger", "The gas ledger: every kilogram in and out");
    family->require_subcommand(1);
    ledger_command(*family, "list", "Containers, breakers and hoses, and what each holds", c,
                   ledger_list_command);
    ledger_command(*family, "entries", "Every movement, also those withdrawn", c, ledger_entries_command);
    ledger_command(*family, "kinds", "The kinds of entry", c, ledger_kinds_command);
    auto* year = ledger_command(*family, "year", "The balance of a year, 40 CFR 98 subpart DD", c,
                                ledger_year_command);
    year->add_option("year", c.ledger.year, "Without it the latest with a movement");
    auto* gwp =
        ledger_command(*family, "gwp", "Sources of the GWP; with an id, choose it", c, ledger_gwp_command);
    gwp->add_option("id", c.ledger.gwp);
    gwp->add_option("--who", c.ledger.who, "Who chooses");
    auto* book = ledger_command(*family, "book", "Make an entry", c, ledger_book_command);
    book->add_option("kind", c.ledger.typed.kind, "As `ledger kinds` lists it")->required();
    add_typed(book, c);
    auto* correct = ledger_command(*family, "correct", "Withdraw an entry and make another in its place", c,
                                   ledger_correct_command);
    add_target(correct, c);
    correct->add_option("--kind", c.ledger.typed.kind, "Without it as before, like all that follows");
    add_typed(correct, c);
    auto* withdraw = ledger_command(*family, "withdraw", "Withdraw an entry", c, ledger_withdraw_command);
    add_target(withdraw, c);
    add_who(withdraw, c);
    auto* close = ledger_command(*family, "close", "Close a year: nothing is entered into it after that", c,
                                 ledger_close_command);
    close->add_option("year", c.ledger.year)->required();
    add_who(close, c);
    auto* save = ledger_command(*family, "export", "Write it as CSV and PDF", c, ledger_export_command);
    save->add_option("--year", c.ledger.year, "Without it the latest with a movement");
    save->add_option("--folder", c.ledger.folder, "A folder that is there; without it in the data");
}

} // namespace isochore::cli
