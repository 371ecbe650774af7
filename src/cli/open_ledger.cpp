#include "cli/open_ledger.h"
#include "session/clock.h"
#include "session/gas_balance.h"

namespace isochore::cli {

int OpenLedger::year_of(LedgerOptions const& o) const
{
    if (o.year != 0)
        return o.year;
    auto const years = session::years_of(book);
    return years.empty() ? std::stoi(today.substr(0, 4)) : years.front();
}

Result<OpenLedger> open_ledger(Places const& places)
{
    auto bench = open_bench(places);
    if (!bench)
        return tl::unexpected(bench.error());
    auto& workspace = *(*bench)->workspace;
    OpenLedger open{std::move(*bench), session::GasLedger(workspace), {}, {}, {}};
    if (auto const added = open.ledger.take_over(open.problems); !added)
        return tl::unexpected(added.error());
    auto book = open.ledger.book();
    if (!book)
        return tl::unexpected(book.error());
    open.book = std::move(*book);
    open.today = session::calendar_day(session::stamp(workspace.clock().now()));
    return open;
}

} // namespace isochore::cli
