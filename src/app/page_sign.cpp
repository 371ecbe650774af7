#include "app/page_sign.h"
#include "app/outage_frame.h"
#include "app/pages.h"
#include "session/clock.h"
#include "session/display.h"
#include "session/sealing.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

std::vector<seal::Person> signers(Desk& desk)
{
    std::vector<seal::Person> list;
    if (auto const all = seal::People(desk.workspace.journal()).all())
        for (auto const& p : *all)
            if (!p.withdrawn && p.role == seal::Role::supervisor)
                list.push_back(p);
    return list;
}

/// Three decimals of the pad's width are finer than the pen of a fingertip.
std::string strokes_json(std::vector<std::vector<drawing::Point>> const& strokes)
{
    std::string text = "[";
    for (auto const& stroke : strokes) {
        text += text.size() > 1 ? ",[" : "[";
        for (std::size_t i = 0; i < stroke.size(); ++i)
            text += fmt::format("{}[{:.3f},{:.3f}]", i ? "," : "", stroke[i].x, stroke[i].y);
        text += "]";
    }
    return strokes.empty() ? std::string() : text + "]";
}

/// In groups of eight digits, as the paper has it.
std::string grouped(std::string const& hash)
{
    std::string text;
    for (std::size_t i = 0; i < hash.size(); i += 8)
        text += (i ? " " : "") + hash.substr(i, 8);
    return text;
}

std::vector<screens::ResultView> facts_of(Desk& desk)
{
    auto const& outage = *desk.outage;
    int done = 0, all = 0, deferred = 0, overridden = 0;
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps) {
            auto const status = model::status_of(outage.checklists(), outage.state(), step);
            if (status == model::StepStatus::not_applicable)
                continue;
            ++all;
            done += status == model::StepStatus::done;
            deferred += status == model::StepStatus::deferred;
            overridden += status == model::StepStatus::overridden;
        }
    return {{desk.words("Steps done"), fmt::format("{} / {}", done, all), {}},
            {desk.words("Overridden"), std::to_string(overridden), {}},
            {desk.words("Put off"), std::to_string(deferred), {}},
            {desk.words("Time"), time_used(desk), {}}};
}

} // namespace

void SignPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    auto const& outage = *desk.outage;
    frame_outage(desk, sheet, "handback");
    screens::SignView v;
    v.heading = outage.state().sealed ? desk.words("Signed and sealed") : desk.words("Review and sign");
    v.meaning = desk.words(session::signature_meaning);
    if (!m_lost)
        m_lost = session::lost_files(desk.workspace, outage);
    for (auto const& lost : *m_lost) // no later work would bring it to light
        v.deviations.push_back({desk.words("Attached file"),
                                lost.missing ? desk.words("missing") : desk.words("altered"),
                                lost.text(outage, desk.words), Mark::undecided});
    for (auto const& d : model::deviations(outage.checklists(), outage.state(), desk.words)) {
        if (d.step->id == "handback.review" || d.step->id == "handback.sign")
            continue;
        v.deviations.push_back(
            {desk.words.title(*d.step), desk.words(model::status_name(d.status)), d.text, mark_of(d.status)});
    }
    v.facts = facts_of(desk);
    for (auto const& p : signers(desk))
        v.signers.push_back({p.id, p.name, p.id == m_signer});
    v.problem = m_problem;
    if (v.problem.empty() && v.signers.empty() && !outage.state().sealed)
        v.problem = desk.words("No supervisor is known on this tablet. Add one under All outages, People.");
    v.strokes = m_strokes;
    v.sealed = outage.state().sealed;
    if (v.sealed) {
        std::string const& at = outage.state().sealed_at;
        v.sealed_lines = {
            desk.words("Sealed at {}", {session::calendar_day(at) + " " + session::clock_time(at)}),
            desk.words("Record {}", {grouped(outage.state().record_hash)})};
        v.sealed_lines.insert(v.sealed_lines.end(), m_files.begin(), m_files.end());
    }
    v.actions.push_back({"back", desk.words("Back"), {}, false, true, false});
    if (v.sealed)
        v.actions.push_back({"jobs", desk.words("All outages"), {}, true, true, false});
    else {
        v.actions.push_back({"clear", desk.words("Clear the pad"), {}, false, !m_strokes.empty(), false});
        v.actions.push_back(
            {"sign", desk.words("Sign and seal"), desk.words("hold"), true,
             !m_signer.empty() && !m_strokes.empty() && session::blocks_signing(outage).empty(), true});
    }
    sheet.sign = std::move(v);
}

void SignPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::answer)
        m_signer = intent.id;
    else if (intent.kind == Intent::Kind::stroke)
        m_strokes = intent.strokes;
    else if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind != Intent::Kind::action)
        return;
    else if (intent.id == "back")
        go_home(desk);
    else if (intent.id == "clear")
        m_strokes.clear();
    else if (intent.id == "jobs") {
        desk.outage.reset();
        desk.go(std::make_unique<JobsPage>());
    } else if (intent.id == "sign") {
        EntryRequest r;
        r.label = desk.words("PIN of the supervisor");
        r.secret = true;
        r.done = [this, &desk](std::string const& pin, std::string const&) { sign(desk, pin); };
        desk.entry.open(std::move(r));
    }
}

void SignPage::sign(Desk& desk, std::string const& pin)
{
    auto const person =
        seal::People(desk.workspace.journal()).check_pin(m_signer, pin, desk.workspace.clock().now().utc_ms);
    if (!person) {
        m_problem = desk.words.sentence(person.error().detail);
        return;
    }
    auto const sealed =
        session::sign_and_seal(desk.workspace, *desk.outage, *person, strokes_json(m_strokes),
                               session::record_folder(desk.workspace, *desk.outage), desk.words);
    if (!sealed) {
        m_problem = desk.fault(sealed.error());
        return;
    }
    m_problem.clear();
    m_files = {sealed->record.string(), sealed->pdf.string()};
}

} // namespace isochore::app
