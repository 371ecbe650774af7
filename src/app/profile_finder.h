#pragma once
#include "app/desk.h"
#include "media/signing.h"

namespace isochore::app {

/// A list of profiles to choose from, narrowed while one types. The rows are made anew only when the words or
/// the library are other ones, and never more of them than anyone scrolls through.
class ProfileFinder {
public:
    /// One entry as a row, by the keys this tablet trusts; nothing: it is not offered.
    using Row = std::function<std::optional<screens::ListRow>(files::LibraryEntry const& entry,
                                                              media::Trust const& trust)>;
    explicit ProfileFinder(bool newest_only) { m_filter.newest_only = newest_only; }

    void fill(Desk& desk, screens::ListView& list, Row const& row);
    /// Opens the keyboard for the words.
    void search(Desk& desk);
    /// The rows are made anew: what a row says besides the library has changed.
    void forget() { m_reading = -1; }

private:
    files::LibraryFilter m_filter;
    std::optional<std::string> m_typing; ///< while the keyboard is open
    std::string m_shown;                 ///< the words the rows below were found by
    int m_reading = -1;
    std::vector<screens::ListRow> m_rows;
    std::size_t m_found = 0;
};

/// Rows of a list at most; the search finds the rest.
inline constexpr std::size_t most_profile_rows = 120;
/// The row that says so.
[[nodiscard]] screens::ListRow more_profiles_row(Desk& desk, std::size_t found);

} // namespace isochore::app
