#pragma once
#include "journal/journal.h"
#include "session/workspace.h"

namespace isochore::session {

/// What an outage's first and last entry say of it.
[[nodiscard]] OutageSummary summary_of(journal::JobHead const& head);

/// The outages of a store, the latest touched first, read a page at a time: a tablet with ten thousand of
/// them shows the first ones at once and reads on in idle moments.
class OutageList {
public:
    enum class Show { in_hand, archived, all };

    [[nodiscard]] static Result<OutageList> of(journal::Journal& journal);

    /// Reads the next `count` outages. Errors: io, corrupt; what was read stays.
    [[nodiscard]] Result<void> read_some(journal::Journal& journal, std::size_t count);
    [[nodiscard]] bool whole() const { return m_rows.size() == m_names.size(); }
    [[nodiscard]] std::size_t total() const { return m_names.size(); }

    /// The first `most` of those read that are to be shown and have all words of `search` in station, bay,
    /// breaker or job number, whatever their case; `found` counts all of them.
    [[nodiscard]] std::vector<OutageSummary const*> find(std::string_view search, Show show, std::size_t most,
                                                         std::size_t& found) const;

private:
    struct Row {
        OutageSummary summary;
        std::string lower; ///< what a search looks at
    };
    std::vector<std::string> m_names;
    std::vector<Row> m_rows;
};

} // namespace isochore::session
