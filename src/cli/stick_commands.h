#pragma once
#include "cli/commands.h"
#include "media/stick_finder.h"

/// Settings sticks from scripts. Every target is a folder: where a stick is mounted, or any other. Exit codes
/// as in commands.h.
namespace isochore::cli {

struct StickOptions {
    std::string job, who, folder, set; ///< set: "S0000003"; empty: the newest valid one
    std::vector<std::string> keys;     ///< public keys to trust beside this tablet's own, 64 hex digits
    std::string trust;                 ///< a file of trusted keys
    bool json = false;
};

/// All sets of a target, newest first, each verified whole. 1 where one is refused or its key not trusted; a
/// set that an interrupted write left is shown and harms nothing.
int stick_list_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Writes an outage's settings as a new set, verifies what is there then, and enters it in the journal.
int stick_write_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Verifies one set, or finds the newest that holds, and reads each of its files. 1 where something does not
/// hold, or a newer set was refused.
int stick_verify_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Removable volumes of this machine, and why others are refused.
int stick_targets_command(StickOptions const& o, std::ostream& out);
/// The printing part of it.
void say_targets(std::ostream& out, media::StickSearch const& search, bool json);

} // namespace isochore::cli
