#pragma once
#include "calc/answer.h"
#include "session/gas_ledger.h"

namespace isochore::session {

/// What one container or breaker had, got, gave and has, in kg, over the movements in force.
struct PlaceBalance {
    std::string place;
    PlaceKind kind = PlaceKind::none;
    double in_kg = 0.0, out_kg = 0.0, holds_kg = 0.0;
    double nameplate_kg = 0.0; ///< breakers: new less retired
    bool known = false;  ///< containers: bought, counted or filled here, so that `holds_kg` means something
    std::string problem; ///< "gave 3.2 kg more than is known to have come in"
};

/// Containers first, then breakers, hoses and air, each by name; up to and with `day`, all when empty.
[[nodiscard]] std::vector<PlaceBalance> balances(GasBook const& book, std::string_view day = {});

/// A year as 40 CFR 98 subpart DD wants it: the inputs of emissions.balance, and its answer or why it is
/// refused.
struct YearBalance {
    int year = 0;
    std::string until; ///< the last day counted: today in a year that still runs
    std::vector<std::pair<std::string, double>> terms; ///< inputs of emissions.balance, kg
    Result<calc::Answer> answer;
    std::vector<std::string> notes;
};
[[nodiscard]] YearBalance balance_of_year(GasBook const& book, int year, std::string_view today);

/// Years with a movement in force, the latest first.
[[nodiscard]] std::vector<int> years_of(GasBook const& book);

} // namespace isochore::session
