#include "cli/answers.h"
#include "cli/bench.h"
#include <ostream>

namespace isochore::cli {
namespace {

Json plan_json(session::PlannedMove const& plan)
{
    Json changes = Json::array(), reopens = Json::array();
    for (auto const& c : plan.changes.changes)
        changes.push_back({{"what", model::change_name(c.kind)},
                           {"step", c.step},
                           {"title", c.title},
                           {"old", c.old_value},
                           {"new", c.new_value}});
    for (auto const& r : plan.changes.reopens)
        reopens.push_back({{"step", r.step}, {"because", r.because}, {"anew", r.anew}});
    return {{"from", plan.from}, {"to", plan.to}, {"changes", changes}, {"reopens", reopens}};
}

void print_plan(std::ostream& out, session::PlannedMove const& plan)
{
    out << "From " << plan.from << "\nto   " << plan.to << '\n';
    for (auto const& c : plan.changes.changes)
        out << "  " << model::describe(c) << '\n';
    for (auto const& r : plan.changes.reopens)
        out << "Opens again: " << r.title << ". " << r.because << '\n';
}

int archive(Places const& places, JobOptions const& o, std::ostream& out,
            Result<void> (session::Outage::*act)(), char const* said)
{
    auto job = open_job(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    if (auto const done = (*job->outage.*act)(); !done)
        return say_error(out, done.error(), o.json);
    out << o.job << ": " << said << '\n';
    return 0;
}

} // namespace

int job_move_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_job(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    auto plan = job->bench->workspace->plan_move(*job->outage);
    if (!plan)
        return say_error(out, plan.error(), o.json);
    Json said = plan_json(*plan);
    if (!o.json)
        print_plan(out, *plan);
    if (!o.by.empty())
        if (auto const done = job->bench->workspace->move(*job->outage, std::move(*plan), o.by, false); !done)
            return say_error(out, done.error(), o.json);
    said["moved"] = !o.by.empty();
    if (o.json)
        say_json(out, said);
    else
        out << (o.by.empty() ? "Nothing is moved yet: whoever has read this confirms it with --by NAME."
                             : "Moved, confirmed by " + o.by + ".")
            << '\n';
    return 0;
}

int job_archive_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    return archive(places, o, out, &session::Outage::archive, "archived");
}

int job_unarchive_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    return archive(places, o, out, &session::Outage::unarchive, "taken out of the archive");
}

} // namespace isochore::cli
