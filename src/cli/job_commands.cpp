#include "calc/usual.h"
#include "cli/bench.h"
#include "cli/pin_input.h"
#include "session/attach.h"
#include "session/profile_step.h"
#include "json/member.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {

using model::StepKind;

int job_list_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto const outages = (*bench)->workspace->outages();
    if (!outages)
        return say_error(out, outages.error(), o.json);
    if (outages->empty() && !o.json)
        out << "No outage is in " << places.data_folder().string() << "; job create begins one.\n";
    for (auto const& s : *outages)
        if (o.json)
            out << Json{{"job", s.job},          {"station", s.station}, {"bay", s.bay},
                        {"breaker", s.breaker},  {"last_at", s.last_at}, {"sealed", s.sealed},
                        {"archived", s.archived}}
                       .dump()
                << '\n';
        else
            out << fmt::format("{:<20} {} {} {}  {}{}{}\n", s.job, s.station, s.bay, s.breaker, s.last_at,
                               s.sealed ? "  sealed" : "", s.archived ? "  archived" : "");
    return 0;
}

namespace {

/// Who takes an unusual release, with a PIN wherever this tablet keeps PINs.
Result<session::AcceptedRelease> accepted_release(session::Workspace& workspace, JobOptions const& o,
                                                  std::string const& who)
{
    if (o.accept.empty())
        return session::AcceptedRelease{};
    session::AcceptedRelease accepted{o.by.empty() ? who : o.by, o.accept, false};
    auto const kept = session::pins_are_kept(workspace);
    if (!kept)
        return tl::unexpected(kept.error());
    if (!*kept)
        return accepted;
    auto const pin = read_pin(o.pin_file, o.pin_fd);
    if (!pin)
        return tl::unexpected(pin.error());
    auto const person = session::person_by_pin(workspace, accepted.by, *pin);
    if (!person)
        return tl::unexpected(person.error());
    accepted.by = person->name;
    accepted.pin_checked = true;
    return accepted;
}

} // namespace

int job_create_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    session::NewOutage setup;
    for (auto const& fact : o.facts) {
        auto const split = fact.find('=');
        if (split == std::string::npos)
            return say_error(
                out, {Error::Code::invalid_input, "--fact", "\"" + fact + "\" is not NAME=VALUE"}, o.json);
        setup.facts[fact.substr(0, split)] = fact.substr(split + 1);
    }
    setup.crew = o.crew;
    setup.who = !o.who.empty() ? o.who : o.crew.empty() ? std::string() : o.crew.front();
    auto const accepted = accepted_release(*(*bench)->workspace, o, setup.who);
    if (!accepted)
        return say_error(out, accepted.error(), o.json);
    auto const outage = (*bench)->workspace->begin(o.profile, setup, *accepted);
    if (!outage)
        return say_error(out, outage.error(), o.json);
    if (o.json)
        out << Json{{"job", (*outage)->job()}}.dump() << '\n';
    else
        out << (*outage)->job() << '\n';
    return 0;
}

namespace {

void print_evaluation(std::ostream& out, JobOptions const& o, session::Evaluation const& e)
{
    if (o.json) {
        Json j{{"step", o.step}, {"verdict", e.verdict}, {"reason", e.reason}};
        if (!e.remedy.empty())
            j["remedy"] = e.remedy;
        if (!e.result.is_null())
            j["answer"] = e.result;
        out << j.dump() << '\n';
        return;
    }
    out << o.step << ": " << (e.verdict.empty() || e.verdict == "none" ? "recorded" : e.verdict);
    if (!e.reason.empty())
        out << ". " << e.reason;
    if (!e.remedy.empty())
        out << " " << e.remedy;
    out << '\n';
}

Result<session::Evaluation> enter(OpenJob& job, JobOptions const& o)
{
    auto& outage = *job.outage;
    auto const step = session::known_step(outage.checklists(), o.step);
    if (!step)
        return tl::unexpected(step.error());
    switch ((*step)->kind) {
    case StepKind::measure:
        return outage.record_value(o.step, o.value, o.confirmed);
    case StepKind::confirm:
    case StepKind::choose:
        return outage.record_answer(o.step, o.value, o.reader, o.doer);
    case StepKind::compute:
        return outage.record_call(o.step);
    case StepKind::log:
        if (o.values.empty())
            return outage.record_call(o.step);
        return outage.add_reading(o.step, o.values, o.confirmed, o.at_s);
    case StepKind::attach: {
        auto const kept = session::attach_file(*job.bench->workspace, outage, o.step, o.value);
        if (!kept)
            return tl::unexpected(kept.error());
        return session::Evaluation{};
    }
    }
    return session::Evaluation{};
}

std::string look_again_text(model::Step const& step)
{
    return "Look again: \"" + step.title + "\" was the last thing done to the plant, more than " +
           calc::usual("outage", "long_break")->text + " ago. When it is still so: isochore job confirm.";
}

/// The outage, opened to enter something: after a long break only once the last physical step was looked at
/// again, as in the window.
Result<OpenJob> open_looked_at(Places const& places, JobOptions const& o)
{
    auto job = open_job(places, o);
    if (!job)
        return job;
    if (auto const* again = job->outage->to_confirm_again();
        again && again->id != o.step && job->outage->why_closed().empty())
        return fail(Error::Code::denied, o.job, look_again_text(*again));
    return job;
}

int done_or_error(std::ostream& out, JobOptions const& o, Result<void> const& done, std::string const& text)
{
    if (!done)
        return say_error(out, done.error(), o.json);
    out << text << '\n';
    return 0;
}

} // namespace

int job_enter_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_looked_at(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    auto const e = enter(*job, o);
    if (!e)
        return say_error(out, e.error(), o.json);
    print_evaluation(out, o, *e);
    return e->verdict == "fail" ? 1 : 0;
}

int job_series_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_looked_at(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    return done_or_error(out, o, job->outage->begin_new_series(o.step, o.reason),
                         o.step + ": a new series begins");
}

int job_defer_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_looked_at(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    auto const done = job->outage->defer(o.step, o.reason, o.owner, o.before);
    std::string const& before = job->outage->state().record(o.step).defer_before;
    return done_or_error(out, o, done,
                         o.step + ": put off " +
                             (before == model::after_outage ? "until after the outage" : "until " + before));
}

int job_not_applicable_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_looked_at(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    return done_or_error(out, o, job->outage->not_applicable(o.step, o.reason), o.step + ": does not apply");
}

int job_override_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_looked_at(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    // A PIN is not taken on a command line, where others can read it: steps that ask for one are overridden
    // in the window.
    return done_or_error(out, o, job->outage->override_step(o.step, o.reason, o.who, false),
                         o.step + ": overridden");
}

int job_confirm_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_job(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    auto const* again = job->outage->to_confirm_again();
    if (!again)
        return say_error(out, {Error::Code::not_found, o.job, "nothing has to be looked at again"}, o.json);
    std::string const id = again->id;
    return done_or_error(out, o, job->outage->confirm_again(), id + ": still so");
}

int job_undo_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_job(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    auto const undone = job->outage->undo();
    if (!undone)
        return say_error(out, undone.error(), o.json);
    out << "taken back: " << *undone << '\n';
    return 0;
}

int job_status_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_job(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    auto const& outage = *job->outage;
    auto const* next = model::next_step(outage.checklists(), outage.state(), {});
    if (o.json) {
        Json steps = Json::array();
        for (auto const& stage : outage.checklists().stages)
            for (auto const& step : stage.steps) {
                auto const& r = outage.state().record(step.id);
                Json j{{"step", step.id},
                       {"status",
                        model::status_name(model::status_of(outage.checklists(), outage.state(), step))}};
                if (!r.typed.empty())
                    j["typed"] = r.typed;
                if (!r.answer.empty())
                    j["answer"] = r.answer;
                if (!r.verdict.empty())
                    j["verdict"] = r.verdict;
                steps.push_back(std::move(j));
            }
        out << Json{{"job", outage.job()},
                    {"entries", outage.state().entries},
                    {"head", outage.state().head},
                    {"next", next ? next->id : std::string()},
                    {"look_again", outage.to_confirm_again() ? outage.to_confirm_again()->id : ""},
                    {"sealed", outage.state().sealed},
                    {"archived", outage.state().archived},
                    {"revision", session::revision_name(outage.pinned())},
                    {"steps", steps}}
                   .dump(2)
            << '\n';
        return 0;
    }
    out << "Last entry: " << outage.last_entry_line() << '\n';
    if (auto const* again = outage.to_confirm_again())
        out << look_again_text(*again) << '\n';
    for (auto const& lost : session::lost_files(*job->bench->workspace, outage))
        out << lost.text(outage) << '\n';
    for (auto const& stage : outage.checklists().stages) {
        auto const p = model::progress(outage.checklists(), outage.state(), stage);
        out << fmt::format("{:>2} {:<22} {:>2} of {:>2} closed", stage.order, stage.title, p.closed,
                           p.applicable);
        for (auto const& [n, word] :
             {std::pair{p.failed, "failed"}, {p.undecided, "undecided"}, {p.deferred, "put off"}})
            if (n)
                out << fmt::format(", {} {}", n, word);
        out << '\n';
    }
    for (auto const& move : outage.state().moves)
        out << "Moved from " << move.from << " to " << move.to << ", confirmed by " << move.by << '\n';
    if (outage.state().archived)
        out << "Archived at " << outage.state().archived_at << " by " << outage.state().archived_by << '\n';
    if (outage.state().sealed)
        out << "Sealed at " << outage.state().sealed_at << '\n';
    else if (next)
        out << "Next: " << next->id << ", " << next->title << '\n';
    return 0;
}

int job_history_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto job = open_job(places, o);
    if (!job)
        return say_error(out, job.error(), o.json);
    auto const& outage = *job->outage;
    if (!o.step.empty())
        if (auto const step = session::known_step(outage.checklists(), o.step); !step)
            return say_error(out, step.error(), o.json);
    for (std::size_t i = 0; i < outage.bodies().size(); ++i) {
        Json const& body = outage.bodies()[i];
        if (!o.step.empty() && text_member(body, "step") != o.step)
            continue;
        if (o.json)
            out << body.dump() << '\n';
        else
            out << fmt::format("{:>4} {} {}: {}\n", i, text_member(body, "at"), text_member(body, "who"),
                               outage.describe(body));
    }
    return 0;
}

int job_export_command(Places const& places, JobOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    return done_or_error(out, o, (*bench)->workspace->journal().export_to(o.file), "exported to " + o.file);
}

} // namespace isochore::cli
