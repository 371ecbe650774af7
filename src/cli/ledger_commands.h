#pragma once
#include "cli/commands.h"
#include "session/gas_ledger.h"

/// The gas ledger from scripts, by the rules of its sheets. Each command first books what the outages did
/// since the last time, as opening the ledger in the window does. Exit codes as in commands.h: 1 where a
/// container gave more than it had, a balance is refused or an outage cannot be read.
namespace isochore::cli {

struct LedgerOptions {
    session::DeskMovement typed;
    std::string who, reason, gwp, folder;
    std::int64_t entry = 0;
    int year = 0; ///< 0: the latest with a movement
    bool json = false;
};

/// Every container, breaker and hose set with what came in, went out and is there.
int ledger_list_command(Places const& places, LedgerOptions const& o, std::ostream& out);
/// Every movement, also those no longer in force, with the number by which it is withdrawn or corrected.
int ledger_entries_command(Places const& places, LedgerOptions const& o, std::ostream& out);
/// The kinds of entry that can be made at a desk.
int ledger_kinds_command(Places const& places, LedgerOptions const& o, std::ostream& out);
/// The balance of a year with each term.
int ledger_year_command(Places const& places, LedgerOptions const& o, std::ostream& out);
/// The sources of the GWP and the one in use; with an id, chooses it.
int ledger_gwp_command(Places const& places, LedgerOptions const& o, std::ostream& out);
int ledger_book_command(Places const& places, LedgerOptions const& o, std::ostream& out);
int ledger_correct_command(Places const& places, LedgerOptions const& o, std::ostream& out);
int ledger_withdraw_command(Places const& places, LedgerOptions const& o, std::ostream& out);
int ledger_close_command(Places const& places, LedgerOptions const& o, std::ostream& out);
/// Writes the ledger as CSV and PDF, into the folder "ledger" of the data unless another is named.
int ledger_export_command(Places const& places, LedgerOptions const& o, std::ostream& out);

} // namespace isochore::cli
