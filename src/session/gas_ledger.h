#pragma once
#include "calc/gwp_sources.h"
#include "session/gas_movement.h"
#include "session/workspace.h"
#include <chrono>
#include <map>
#include <set>

namespace isochore::session {

/// Everything the ledger knows, replayed from its journal.
struct GasBook {
    std::vector<GasMovement> movements; ///< by day, then as entered; with those no longer in force
    calc::GwpSource gwp;                ///< the one chosen, else the first of the list
    bool gwp_chosen = false;
    std::int64_t entries = 0;           ///< of the ledger's journal
    std::map<int, double> closed_years; ///< year, kg in containers at its end
};

/// What is typed at a desk.
struct DeskMovement {
    std::string kind, day, from, to, mass, note; ///< mass as typed, "52.2 kg"
};

/// How far looking into the outages has come, and what it found.
struct LookIntoOutages {
    std::set<std::string, std::less<>> seen; ///< outages looked into
    std::vector<std::string> problems;       ///< those that could not be read, with why
    std::size_t total = 0;
    int added = 0; ///< bookings
    bool finished = false;
};

/// The gas ledger of this tablet: the journal job "@ledger" of the store, append-only like all of it. Fills
/// of outages are booked by `take_over`, one booking an outage and step; a corrected outage gives a new
/// booking that takes the place of the one before, so that no kilogram counts twice. What is typed at a desk
/// is never changed: it is withdrawn with a reason and typed anew.
class GasLedger {
public:
    explicit GasLedger(Workspace& workspace) : m_workspace(workspace) {}

    /// Books what the outages did since the last time. Returns how many bookings were added.
    /// Errors: those of the store; an outage that cannot be read is named in `problems` and left out.
    [[nodiscard]] Result<int> take_over(std::vector<std::string>& problems);
    /// The same for about so long, at least one outage: to be called until it is finished. What is booked
    /// stays booked when nobody goes on.
    [[nodiscard]] Result<void> take_over(LookIntoOutages& at, std::chrono::milliseconds time);
    [[nodiscard]] Result<GasBook> book();

    /// Errors: invalid_input and missing_input (kind, names, day, mass), out_of_range (a container would hold
    /// less than nothing), denied (the year is closed).
    [[nodiscard]] Result<void> add(DeskMovement const& typed, std::string_view who);
    /// Errors: denied for what an outage booked (it is corrected there), for a closed year, and where another
    /// movement lives on the gas; not_found.
    [[nodiscard]] Result<void> withdraw(std::int64_t entry, std::string_view reason, std::string_view who);
    /// Withdraws an entry and makes another in its place, both or neither.
    [[nodiscard]] Result<void> correct(std::int64_t entry, DeskMovement const& typed, std::string_view reason,
                                       std::string_view who);
    /// The GWP for all t CO2e from now on; outages begun from now on carry it with its source.
    [[nodiscard]] Result<void> choose_gwp(std::string_view id, std::string_view who);
    /// Closes a year with what the containers hold at its end: nothing can be entered into it after that.
    /// Errors: those of the balance; denied (closed already, or not over yet).
    [[nodiscard]] Result<void> close_year(int year, std::string_view who);

private:
    [[nodiscard]] Result<void> append(Json body, std::string_view who);
    [[nodiscard]] Result<void> change(DeskMovement const* typed, std::optional<std::int64_t> target,
                                      std::string_view reason, std::string_view who);

    Workspace& m_workspace;
};

/// The GWP in use on this tablet, for what an outage is to carry.
[[nodiscard]] Result<calc::GwpSource> gwp_in_use(journal::Journal& journal);

} // namespace isochore::session
