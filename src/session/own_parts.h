#pragma once
#include "disk/disk.h"
#include "json/value.h"
#include <string>
#include <vector>

namespace isochore::session {

/// Parts that the people of this store added, one file a revision in DATA/parts, never overwritten: a change
/// or a withdrawal is a further file. Each revision has id, revision, at, by; a withdrawal has withdrawn and
/// reason besides. A part has
/// group ("fitting", "wire", "spare"), id, name, cost, source, confidence ("confirmed", "unconfirmed"), and
///   fitting: kind, ends ["G 1/2 male", …], length, bore or volume, mass, max_pressure ("40 bar", gauge)
///   wire:    cost of a metre
///   spare:   per (job, person, joint, circuit, input, fastener), each
/// All amounts are text with their unit, as typed.
struct OwnParts {
    Json parts = Json::array();      ///< in force: the newest revision of each, without the withdrawn
    Json history = Json::object();   ///< of each id: every revision, oldest first
    std::vector<std::string> faults; ///< files that could not be read, each with its reason
    /// Every revision of a part; an empty list where there is none.
    [[nodiscard]] Json revisions(std::string_view id) const;
};
[[nodiscard]] OwnParts read_own_parts(disk::Disk& disk, disk::Path const& data);

struct PartFault {
    std::string field, detail;
};
/// Every fault of a part, field by field; `known` are the parts there already. A part with an id is a
/// revision of that one and may keep its name.
[[nodiscard]] std::vector<PartFault> check_own_part(Json const& part, Json const& known);
/// What is wrong with one field of a part; empty: nothing.
[[nodiscard]] std::string fault_of_field(Json const& part, std::string const& field);
/// The fields of a group, in the order of the form.
[[nodiscard]] std::vector<std::string> const& part_fields(std::string_view group);

/// "own-" and the letters and digits of a name.
[[nodiscard]] std::string part_id(std::string_view name);

/// The next revision of a part, on disk when it returns. Errors: denied (there is this revision), io.
[[nodiscard]] Result<void> write_own_part(disk::Disk& disk, disk::Path const& data, Json const& part);
[[nodiscard]] int revision_of(Json const& part);
[[nodiscard]] bool is_withdrawn(Json const& part);

/// As fitting.chain takes them in "library", and as kit.plan takes them in "kit_rules".
[[nodiscard]] Json own_fittings(Json const& parts);
[[nodiscard]] Json own_kit_rules(Json const& parts);

} // namespace isochore::session
