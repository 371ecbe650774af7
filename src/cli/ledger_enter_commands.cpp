#include "cli/answers.h"
#include "cli/open_ledger.h"
#include "session/gas_files.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

/// What is not said of a correction stays as it was.
Result<session::DeskMovement> corrected(OpenLedger const& open, LedgerOptions const& o)
{
    for (auto const& m : open.book.movements) {
        if (m.entry != o.entry)
            continue;
        auto const said = [](std::string const& given, std::string const& before) {
            return given.empty() ? before : given;
        };
        return session::DeskMovement{said(o.typed.kind, m.kind),  said(o.typed.day, m.day),
                                     said(o.typed.from, m.from),  said(o.typed.to, m.to),
                                     said(o.typed.mass, m.typed), said(o.typed.note, m.note)};
    }
    return fail(Error::Code::not_found, "entry", fmt::format("the ledger has no entry {}", o.entry));
}

/// Opens the ledger, makes one change, and says so or why not.
template <class Change>
int change_ledger(Places const& places, LedgerOptions const& o, std::ostream& out, Change change)
{
    auto open = open_ledger(places);
    if (!open)
        return say_error(out, open.error(), o.json);
    if (Result<void> const done = change(*open); !done)
        return say_error(out, done.error(), o.json);
    auto const book = open->ledger.book();
    if (!book)
        return say_error(out, book.error(), o.json);
    if (o.json)
        say_json(out, {{"done", true}, {"entries", book->entries}});
    else
        out << fmt::format("Entered; the ledger has {} entries.\n", book->entries);
    return 0;
}

} // namespace

int ledger_book_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    return change_ledger(places, o, out, [&](OpenLedger& open) {
        auto typed = o.typed;
        if (typed.day.empty())
            typed.day = open.today;
        return open.ledger.add(typed, o.who);
    });
}

int ledger_correct_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    return change_ledger(places, o, out, [&](OpenLedger& open) -> Result<void> {
        auto const typed = corrected(open, o);
        if (!typed)
            return tl::unexpected(typed.error());
        return open.ledger.correct(o.entry, *typed, o.reason, o.who);
    });
}

int ledger_withdraw_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    return change_ledger(places, o, out,
                         [&](OpenLedger& open) { return open.ledger.withdraw(o.entry, o.reason, o.who); });
}

int ledger_close_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    return change_ledger(places, o, out,
                         [&](OpenLedger& open) { return open.ledger.close_year(o.year, o.who); });
}

int ledger_export_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    auto const open = open_ledger(places);
    if (!open)
        return say_error(out, open.error(), o.json);
    auto& workspace = *open->bench->workspace;
    int const year = open->year_of(o);
    auto const files = o.folder.empty() ? session::write_gas_files(workspace, open->book, year)
                                        : session::write_gas_files(workspace, open->book, year, o.folder);
    if (!files)
        return say_error(out, files.error(), o.json);
    if (o.json)
        say_json(out, {{"year", year}, {"csv", files->csv.string()}, {"pdf", files->pdf.string()}});
    else
        out << files->csv.string() << '\n' << files->pdf.string() << '\n';
    return open->problems.empty() ? 0 : 1;
}

} // namespace isochore::cli
