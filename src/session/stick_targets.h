#pragma once
#include "session/workspace.h"

namespace isochore::session {

/// One place a set can be written to.
struct StickTarget {
    std::string path, title, detail, side;
    bool usable = true; ///< false: shown, with why not
};

/// Removable media mounted now, and why others are refused.
[[nodiscard]] std::vector<StickTarget> stick_targets(Workspace& workspace);

} // namespace isochore::session
