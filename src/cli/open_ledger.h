#pragma once
#include "cli/bench.h"
#include "cli/ledger_commands.h"
#include "session/gas_ledger.h"

namespace isochore::cli {

/// The ledger with what the outages did booked, as a command finds it.
struct OpenLedger {
    std::shared_ptr<Bench> bench;
    session::GasLedger ledger;
    session::GasBook book;
    std::vector<std::string> problems; ///< outages that could not be read, their gas missing
    std::string today;

    [[nodiscard]] int year_of(LedgerOptions const& o) const;
};
[[nodiscard]] Result<OpenLedger> open_ledger(Places const& places);

} // namespace isochore::cli
