#include "session/stick_targets.h"

namespace isochore::session {

std::vector<StickTarget> stick_targets(Workspace&)
{
    return {};
}

} // namespace isochore::session
