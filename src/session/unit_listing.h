#pragma once
#include "session/unit_store.h"
#include <set>

namespace isochore::session {

/// The units as list_units finds them, but one after the other: the journal belongs to the window's thread,
/// which looks at a few in each idle moment, says how far it is, and can leave it. `in_hand` and `on_stick`
/// must outlive it; the library should be read (Workspace::library_is_read), or the first step reads it.
class UnitListing {
public:
    /// With `wanted` only units of these ids are looked at: outages that nobody asked for cost nothing.
    UnitListing(Workspace& workspace, Outage const* in_hand, media::StickContent const* on_stick,
                std::optional<std::set<std::string, std::less<>>> wanted = std::nullopt);

    /// Looks at the next one; false: nothing is left.
    bool step();
    [[nodiscard]] bool finished() const { return m_done == m_todo.size(); }
    [[nodiscard]] std::size_t done() const { return m_done; }
    [[nodiscard]] std::size_t total() const { return m_todo.size(); }
    /// What is looked at next: the name of an outage, the serial number of a unit.
    [[nodiscard]] std::string at() const;
    /// Those found so far, in the order of list_units; an error where nothing can be known.
    [[nodiscard]] Result<std::vector<ListedUnit>> const& units() const { return m_units; }
    [[nodiscard]] Result<std::vector<ListedUnit>> take() { return std::move(m_units); }

private:
    struct Todo {
        std::string id, name;
        std::function<std::optional<ListedUnit>()> look; ///< nothing: it is not listed after all
    };
    void add(std::string id, std::string name, std::function<std::optional<ListedUnit>()> look);
    void add_outages(Outage const* in_hand);
    void add_kept();
    void add_on_stick(media::StickContent const& content);

    Workspace& m_workspace;
    std::optional<std::set<std::string, std::less<>>> m_wanted;
    std::vector<Todo> m_todo;
    std::size_t m_done = 0;
    Result<std::vector<ListedUnit>> m_units;
};

} // namespace isochore::session
