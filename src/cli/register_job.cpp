#include "cli/chosen.h"

namespace isochore::cli {
namespace {

CLI::App* job_command(CLI::App& job, char const* name, char const* purpose, Chosen& c, bool needs_job,
                      int (*run)(Places const&, JobOptions const&, std::ostream&))
{
    auto* command = job.add_subcommand(name, purpose);
    if (needs_job)
        command->add_option("job", c.job.job, "Name of the outage")->required();
    command->add_option("--who", c.job.who, "Who makes the entry");
    command->add_flag("--json", c.job.json, "Print JSON");
    command->callback([&c, run] { c.code = run(c.places, c.job, *c.out); });
    return command;
}

} // namespace

void add_job_commands(CLI::App& app, Chosen& c)
{
    auto* job = app.add_subcommand("job", "Outages from scripts, by the rules of the window");
    job->require_subcommand(1);
    job_command(*job, "list", "All outages", c, false, job_list_command);
    auto* create = job_command(*job, "create", "Begin an outage", c, false, job_create_command);
    create->add_option("--profile", c.job.profile, "Id of the breaker profile")->required();
    create->add_option("--fact", c.job.facts, "NAME=VALUE: station, bay, serial, job_no, window, …");
    create->add_option("--crew", c.job.crew, "Names of the crew");
    create->add_option("--accept", c.job.accept,
                       "Why the profile is taken although nobody signed it or a newer one was withdrawn");
    create->add_option("--by", c.job.by, "Who accepts that; without it who makes the entry");
    create->add_option("--pin-file", c.job.pin_file, "File with that person's PIN; - for standard input");
    create->add_option("--pin-fd", c.job.pin_fd, "Open descriptor with the PIN instead")
        ->check(CLI::NonNegativeNumber)
        ->excludes("--pin-file");
    auto* enter = job_command(*job, "enter", "Record a step: a value, an answer, a result or a reading", c,
                              true, job_enter_command);
    enter->add_option("step", c.job.step, "Id of the step, as status --json names it")->required();
    enter->add_option("value", c.job.value, "Typed value, or the answer's id");
    enter->add_option("--reading", c.job.values, "One reading of a log, a value a column");
    enter->add_option("--at", c.job.at_s, "Seconds since the log began");
    enter->add_option("--reader", c.job.reader, "Who reads a step that one person reads and another does");
    enter->add_option("--doer", c.job.doer, "Who does it");
    enter->add_flag("--sure", c.job.confirmed, "Keep an unlikely value");
    auto* correct = job_command(*job, "correct", "Record a step again; what used it opens again", c, true,
                                job_enter_command);
    correct->add_option("step", c.job.step, "Id of the step, as status --json names it")->required();
    correct->add_option("value", c.job.value, "Typed value, or the answer's id");
    correct->add_flag("--sure", c.job.confirmed, "Keep an unlikely value");
    correct->add_option("--reader", c.job.reader, "Who reads it, where two do");
    correct->add_option("--doer", c.job.doer, "Who does it");
    auto* series = job_command(*job, "new-series",
                               "Begin a log anew after a disturbed series; its readings stay in the history",
                               c, true, job_series_command);
    series->add_option("step", c.job.step, "Id of the log's step")->required();
    series->add_option("--reason", c.job.reason, "What disturbed the series so far")->required();
    auto* defer = job_command(*job, "defer", "Put a step off", c, true, job_defer_command);
    defer->add_option("step", c.job.step, "Id of the step, as status --json names it")->required();
    defer->add_option("--reason", c.job.reason, "Why not now")->required();
    defer->add_option("--owner", c.job.owner, "Who closes it")->required();
    defer->add_option(
        "--before", c.job.before,
        "Later step it must be closed before and that waits for it, or after_outage; left out: the "
        "first that needs it, else the last");
    auto* aside = job_command(*job, "not-applicable", "Say that a step does not apply at this plant, and why", c,
                              true, job_not_applicable_command);
    aside->add_option("step", c.job.step, "Id of the step, as status --json names it")->required();
    aside->add_option("--reason", c.job.reason, "Why it does not apply")->required();
    auto* override_command =
        job_command(*job, "override", "Override a failed or undecided step", c, true, job_override_command);
    override_command->add_option("step", c.job.step, "Id of the step, as status --json names it")->required();
    override_command->add_option("--reason", c.job.reason, "Why it is accepted")->required();
    job_command(*job, "confirm", "After a break: the last thing done to the plant is still as it was", c,
                true, job_confirm_command);
    job_command(*job, "undo", "Take back the last entry, as a new entry", c, true, job_undo_command);
    job_command(*job, "status", "Where the outage stands", c, true, job_status_command);
    auto* history = job_command(*job, "history", "Its entries", c, true, job_history_command);
    history->add_option("--step", c.job.step, "Only those of one step");
    auto* move =
        job_command(*job, "move", "Say what the newest checklists and profile change, and move to them", c,
                    true, job_move_command);
    move->add_option("--by", c.job.by,
                     "Who has read the changes and confirms them; without it nothing is done");
    job_command(*job, "archive", "Put an outage away: read only until it is taken out", c, true,
                job_archive_command);
    job_command(*job, "unarchive", "Take an outage out of the archive", c, true, job_unarchive_command);
    auto* script =
        job_command(*job, "script", "Run a file of job commands, one a line", c, false, job_script_command);
    script->add_option("file", c.job.file, "The script; - for standard input")->required();
    script->add_option("--clock", c.job.clock, "RFC 3339 time at which a clock that stands still begins");
    auto* save = job_command(*job, "export", "Copy the whole store, consistent and verified", c, false,
                             job_export_command);
    save->add_option("file", c.job.file, "File to write; nothing is overwritten")->required();
    auto* verify = job_command(*job, "verify", "Recompute the chain of an outage's entries", c, false,
                               job_verify_command);
    verify->add_option("job", c.job.job, "Name of the outage; without it the whole store");
}

} // namespace isochore::cli
