#pragma once
#include "cli/places.h"
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

/// The commands, each in its own file. They print for people, or JSON where asked, and return the exit code:
/// 0 done, 1 something was found wrong, 2 could not be done.
namespace isochore::cli {

/// Answers JSON Lines of calculations, one line each, in order, until the input ends.
int calc_command(std::istream& in, std::ostream& out);

/// Names and purposes of all calculations.
int calc_list_command(std::ostream& out);

/// Checks checklist and profile files or folders, naming every fault with its place.
int check_command(Places const& places, std::vector<std::string> const& files, std::ostream& out);

/// Verifies a sealed record.
int verify_command(std::string const& file, std::ostream& out);

/// Outages from scripts: the same rules as the window.
struct JobOptions {
    std::string job, who, step, value, reason, owner, before, profile, file, target, reader, doer, by, clock;
    std::vector<std::string> values, facts, crew;
    bool confirmed = false, json = false;
    std::optional<double> at_s;
    std::string accept;   ///< create: why an unusual release is taken, by `by` or `who`
    std::string pin_file; ///< with the PIN of who accepts it; "-": standard input
    int pin_fd = -1;
};
int job_list_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_create_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_enter_command(Places const& places, JobOptions const& o, std::ostream& out);
/// Begins a log anew after a disturbed series.
int job_series_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_defer_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_not_applicable_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_override_command(Places const& places, JobOptions const& o, std::ostream& out);
/// After a long break: the last physical step is still as it was.
int job_confirm_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_undo_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_status_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_history_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_export_command(Places const& places, JobOptions const& o, std::ostream& out);
/// Says what moving the outage to the newest checklists and profile changes; with `by`, who has read that and
/// confirms it, moves it.
int job_move_command(Places const& places, JobOptions const& o, std::ostream& out);
/// Puts an outage away, or takes it out again.
int job_archive_command(Places const& places, JobOptions const& o, std::ostream& out);
int job_unarchive_command(Places const& places, JobOptions const& o, std::ostream& out);
/// Runs a script of job commands, one a line, in one go (see cli/job_script.cpp).
int job_script_command(Places const& places, JobOptions const& o, std::ostream& out);
/// Recomputes the chain of one outage, or of the whole store without a name. Makes no entry.
int job_verify_command(Places const& places, JobOptions const& o, std::ostream& out);

/// Prints an error, for people or as {"error":{"code","where","detail"}}, and returns 2.
int say_error(std::ostream& out, Error const& error, bool json = false);

} // namespace isochore::cli
