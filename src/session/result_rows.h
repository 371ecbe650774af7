#pragma once
#include "json/value.h"
#include <string>
#include <vector>

namespace isochore::session {

/// A line of a table that explains a result: a candidate, a reason, an explanation.
struct ResultRow {
    std::string label, limit, value, verdict;
};

/// The lists that answers bring besides their figures, as rows for people: threads that may be meant, reasons
/// for a connection, what explains a sum of currents, terminal pairs with their ratios, wire to cut.
[[nodiscard]] std::vector<ResultRow> result_rows(Json const& answer);

} // namespace isochore::session
