#pragma once
#include "session/workspace.h"
#include <memory>
#include <string>

namespace isochore::cli {

struct Bench;

/// Folders as the command line gives them; what is empty is taken from the environment (ISOCHORE_SHARE,
/// ISOCHORE_DATA), else from where the program was built and the user's data folder (XDG_DATA_HOME).
struct Places {
    std::string share;            ///< holds checklists/, profiles/, assets/
    std::string data;             ///< holds the journal
    std::shared_ptr<Bench> bench = {}; ///< open already, for the commands of a script; usually none
    [[nodiscard]] disk::Path share_folder() const;
    [[nodiscard]] disk::Path data_folder() const;
    [[nodiscard]] session::Folders folders() const;
};

} // namespace isochore::cli
