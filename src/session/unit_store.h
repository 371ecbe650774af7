#pragma once
#include "media/stick_content.h"
#include "session/workspace.h"

namespace isochore::session {

/// One unit whose values are known to this tablet.
struct ListedUnit {
    enum class Origin { outage, desk, stick };
    std::string id; ///< "outage:JOB", "desk:u3", "stick:U0000001.JSN"
    Origin origin = Origin::desk;
    media::UnitValues values;
    std::optional<model::Profile> profile; ///< nothing where the library has no such model
    media::UnitSettings settings;          ///< empty without a profile
    std::string problem;                   ///< the first thing that keeps it off the stick; empty when ready
    [[nodiscard]] bool ready() const { return problem.empty(); }
};

/// Units prepared at a desk or taken from a stick, kept as entries of the journal job "@units": nothing is
/// ever changed, new values and a removal are further entries.
class UnitStore {
public:
    explicit UnitStore(journal::Journal& store) : m_store(store) {}

    struct Kept {
        std::string id; ///< "u1", "u2", …: stays the same for ever
        media::UnitValues values;
    };
    [[nodiscard]] Result<std::vector<Kept>> all();
    [[nodiscard]] Result<std::optional<Kept>> find(std::string_view id);
    /// A new unit where `id` is empty; returns its id. Errors: invalid_input (no profile, no unit field of
    /// that name), not_found, io.
    [[nodiscard]] Result<std::string> set(std::string_view id, media::UnitValues const& values,
                                          std::string_view who, Now const& now);
    [[nodiscard]] Result<void> remove(std::string_view id, std::string_view who, Now const& now);
    /// The units of an import in one entry, so that all of them are there or none. The same import again
    /// enters nothing: a start after a power cut does not know how far the last one came.
    [[nodiscard]] Result<void> enter(std::string_view import, std::vector<Kept> const& units,
                                     std::string_view who, std::string_view at);
    /// The number of the next new unit: ids are never used twice.
    [[nodiscard]] Result<std::size_t> next_number();

private:
    journal::Journal& m_store;
};

/// The units of the outage in hand (where there is one), of other open outages, of the desk, and of a stick.
/// Outages whose unit has no serial number yet are left out. All at once: unit_listing.h does it in steps.
[[nodiscard]] Result<std::vector<ListedUnit>> list_units(Workspace& workspace, Outage const* in_hand,
                                                         media::StickContent const* on_stick);

/// Whether two say the same about a unit, whatever outage they come from.
[[nodiscard]] bool same_values(media::UnitValues const& a, media::UnitValues const& b);

/// One unit of the desk over the profile it names, or the released revision of that. Errors: not_found, io.
[[nodiscard]] Result<ListedUnit> kept_unit(Workspace& workspace, std::string_view id);

/// One unit layered over its profile, with what is in the way said.
[[nodiscard]] ListedUnit look_at_unit(std::string id, ListedUnit::Origin origin, media::UnitValues values,
                                      std::optional<model::Profile> profile);

/// The files of a set with these units. Errors: invalid_input (one is not ready; two have the same serial
/// number).
[[nodiscard]] Result<std::vector<media::SetFile>> stick_files(std::vector<ListedUnit> const& units);

} // namespace isochore::session
