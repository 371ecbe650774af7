#include "app/profile_finder.h"
#include "app/page_profile.h"

namespace isochore::app {

using screens::Mark;

screens::ListRow more_profiles_row(Desk& desk, std::size_t found)
{
    return {"more",
            desk.words("The list ends here"),
            desk.words("{} were found. Search, or narrow them down.", {std::to_string(found)}),
            {},
            Mark::none,
            false};
}

void ProfileFinder::fill(Desk& desk, screens::ListView& list, Row const& row)
{
    if (!desk.entry.is_open())
        m_typing.reset();
    std::string const& words = m_typing ? *m_typing : m_filter.text;
    if (m_reading != desk.workspace.library_reading() || m_reading == -1 || words != m_shown) {
        auto const& library = desk.workspace.library();
        m_reading = desk.workspace.library_reading();
        m_shown = words;
        files::LibraryFilter filter = m_filter;
        filter.text = words;
        auto const trust = trust_for_rows(desk);
        m_rows.clear();
        m_found = 0;
        for (auto const* entry : files::search(library, filter)) {
            if (m_rows.size() < most_profile_rows)
                if (auto made = row(*entry, trust))
                    m_rows.push_back(std::move(*made));
            ++m_found;
        }
        if (m_found > most_profile_rows)
            m_rows.push_back(more_profiles_row(desk, m_found));
    }
    list.searchable = true;
    list.search = m_shown;
    list.empty = desk.words("No profile found.");
    list.rows = m_rows;
}

void ProfileFinder::search(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Search");
    r.context = desk.words("name, maker, mechanism, voltage, gas, status");
    r.text = true;
    r.typed = m_filter.text;
    r.may_be_empty = true;
    m_typing = r.typed;
    r.changed = [this](std::string const& typed) { m_typing = typed; };
    r.judge = [this, &desk](std::string const&) {
        return EntryJudgement{desk.words("found: {}", {std::to_string(m_found)}), {}, {}};
    };
    r.done = [this](std::string const& typed, std::string const&) {
        m_filter.text = typed;
        m_typing.reset();
    };
    desk.entry.open(std::move(r));
}

} // namespace isochore::app
