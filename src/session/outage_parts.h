#pragma once
#include "session/outage.h"
#include <map>

namespace isochore::session {

/// Parts of the store as an outage took them: a part that an outage uses is not changed under it. The first
/// entry that uses one is preceded by an entry that holds the whole part.
[[nodiscard]] std::map<std::string, Json, std::less<>> taken_parts(Outage const& outage);

/// What the outage works with: the store's parts, those it has taken as it took them.
[[nodiscard]] Json parts_in(Outage const& outage, Json const& store);

/// Takes the parts into the outage that answering the step with `answer`, or its calculation, uses and that
/// are not taken yet. Errors: io.
[[nodiscard]] Result<void> take_used_parts(Outage& outage, model::Step const& step, std::string_view answer);

/// Takes another revision of a part into the outage; what was worked out with the earlier one opens again.
/// The caller sets the outage's parts anew. Errors: denied (sealed or archived), io.
[[nodiscard]] Result<void> take_part(Outage& outage, Json const& part);

} // namespace isochore::session
