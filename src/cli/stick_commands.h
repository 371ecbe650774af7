#pragma once
#include "cli/bench.h"
#include "cli/commands.h"
#include "media/stick_finder.h"
#include "media/stick_set.h"
#include <map>

/// Settings sticks from scripts. Every target is a folder: where a stick is mounted, or any other. Exit codes
/// as in commands.h.
namespace isochore::cli {

struct StickOptions {
    std::string job, who, folder, set; ///< set: "S0000003"; empty: the newest valid one
    std::vector<std::string> keys;     ///< public keys to trust beside this tablet's own, 64 hex digits
    std::string trust;                 ///< a file of trusted keys
    std::vector<std::string> values;   ///< PATH=TEXT: of a unit, or as the unit shows it
    std::vector<std::string> units;    ///< ids of units, as `stick units` lists them
    std::string unit, profile;         ///< a unit of the desk to change; the model of a new one
    std::string key, name;             ///< trust: which key, whose it is
    std::string pin;                   ///< of `who`; never from the command line, where others can read it
    std::string reader, doer;          ///< read back: who read out, who typed
    bool record = false, stale = false;
    std::uint64_t megabytes = 64;
    bool json = false;
};

/// PATH=TEXT, as given on the command line. Errors: invalid_input.
[[nodiscard]] Result<std::map<std::string, std::string, std::less<>>>
split_values(std::vector<std::string> const& given);
/// The outage a command names, with who makes its entries. Errors: as open_job.
[[nodiscard]] Result<OpenJob> open_outage(Places const& places, StickOptions const& o);
/// Whether a folder can take these files, with the room they need.
[[nodiscard]] Result<void> fits_target(std::vector<media::SetFile> const& files, std::string const& folder);
/// What was found there does not hold, as against nothing that could be looked at.
[[nodiscard]] bool is_refusal(Error const& error);

/// All sets of a target, newest first, each verified whole. 1 where one is refused or its key not trusted; a
/// set that an interrupted write left is shown and harms nothing.
int stick_list_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Writes an outage's settings as a new set, verifies what is there then, and enters it in the journal.
int stick_write_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Verifies one set, or finds the newest that holds, and reads each of its files. 1 where something does not
/// hold, or a newer set was refused.
int stick_verify_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Writes a set with units chosen by id.
int stick_write_units_command(Places const& places, StickOptions const& o, std::ostream& out);
/// The units this tablet knows: 1 where one is not ready for a stick.
int stick_units_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Prepares a unit, or changes one; prints its id and, a line each, what is in its way. With an id only,
/// shows it beside its profile: 1 where it is not ready for a stick.
int stick_unit_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Takes a verified set into the library and the units: all or nothing. 1 where it is refused.
int stick_import_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Compares what a unit shows (typed values, or the file it left on its stick) with what was loaded. 0 only
/// when every setting the checklist names was read and all agree; 1 otherwise. With `record` it is entered.
int stick_readback_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Flushes a stick and unmounts it where that is allowed: 0 only when it can be pulled.
int stick_release_command(StickOptions const& o, std::ostream& out);
/// Fills a part of a target and reads it back: 1 where it keeps less than it was given.
int stick_check_command(StickOptions const& o, std::ostream& out);
/// The keys this tablet believes; add and remove need a person's PIN.
int stick_keys_command(Places const& places, StickOptions const& o, std::ostream& out);
int stick_trust_command(Places const& places, StickOptions const& o, std::ostream& out);
int stick_distrust_command(Places const& places, StickOptions const& o, std::ostream& out);
/// Removable volumes of this machine, and why others are refused.
int stick_targets_command(StickOptions const& o, std::ostream& out);
/// The printing part of it.
void say_targets(std::ostream& out, media::StickSearch const& search, bool json);

} // namespace isochore::cli
