#pragma once
#include "language/words.h"
#include "session/gas_balance.h"

namespace isochore::session {

/// The files of a ledger as written: one row a movement, one sheet set to print.
struct GasFiles {
    disk::Path csv, pdf;
};

/// Every movement of the book, also those no longer in force with the reason, as CSV. Masses in kg with full
/// digits, lb, and t CO2e by the book's GWP.
[[nodiscard]] Result<std::string> gas_csv(GasBook const& book);
/// Balances by container and breaker, the year's balance with each term, and the movements, as PDF in the
/// language of the words.
[[nodiscard]] Result<std::string> gas_pdf(GasBook const& book, YearBalance const& year,
                                          std::string const& today, language::Words const& words = {});
/// Writes both into the folder "ledger" of the data. Their names carry the year, the day and the number of
/// entries, so that the same knowledge gives the same files. The CSV is the same in every language; another
/// than English is in the name of the PDF.
[[nodiscard]] Result<GasFiles> write_gas_files(Workspace& workspace, GasBook const& book, int year,
                                               language::Words const& words = {});
/// The same into a folder that is there.
[[nodiscard]] Result<GasFiles> write_gas_files(Workspace& workspace, GasBook const& book, int year,
                                               disk::Path const& folder, language::Words const& words = {});

/// "user emissions", with its sign in the balance, for people.
struct TermText {
    std::string_view id, label;
    int sign = 1;
};
/// The inputs of emissions.balance in the order of the rule, in four groups.
struct TermGroup {
    std::string_view label, figure; ///< `figure` is the result of emissions.balance that sums the group
    int sign = 1;                   ///< of the group in user emissions
    std::vector<TermText> terms;
};
[[nodiscard]] std::vector<TermGroup> const& balance_groups();

} // namespace isochore::session
