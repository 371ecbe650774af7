#pragma once
#include "seal/people.h"
#include "session/workspace.h"

/// The life of a revision: draft, checked, released by a second person, withdrawn; each step signed.
namespace isochore::session {

/// The profile one step on, the new sign-off signed with this tablet's key.
/// Errors: denied (the step does not follow, or the same person again), corrupt or io (the key).
[[nodiscard]] Result<model::Profile> signed_step(disk::Disk& disk, disk::Path const& data,
                                                 model::Profile const& profile, std::string_view to,
                                                 std::string_view person, std::string_view day);

/// Whether anybody on this tablet has a PIN, so that a step asks for one.
[[nodiscard]] Result<bool> pins_are_kept(Workspace& workspace);
/// The person of that name, proven by the PIN. Errors: denied (wrong PIN, or to wait), not_found.
[[nodiscard]] Result<seal::Person> person_by_pin(Workspace& workspace, std::string_view name,
                                                 std::string_view pin);

/// Takes a revision of the library one step further, in its own file and in the journal. The person has
/// shown a PIN. Errors: not_found; invalid_input (it has faults; withdrawing is allowed all the same);
/// denied (as signed_step, or the person is of the crew: an engineer or a supervisor answers for a profile).
[[nodiscard]] Result<model::Profile> take_step(Workspace& workspace, std::string_view id, int revision,
                                               std::string_view to, seal::Person const& person);

/// Whether the person's role lets them answer for a profile. Errors: denied.
[[nodiscard]] Result<void> may_answer(seal::Person const& person);

} // namespace isochore::session
