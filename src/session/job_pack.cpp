#include "session/job_pack.h"
#include "disk/whole_file.h"
#include "report/job_pack_pdf.h"
#include "session/display.h"
#include "session/plan.h"
#include "session/record_steps.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {
namespace {

std::string fact(Outage const& outage, std::string_view name)
{
    auto const it = outage.state().facts.find(name);
    return it == outage.state().facts.end() ? std::string() : it->second;
}

/// What is to be said of a part: its own note, what is in hand, and of an instrument its calibration.
std::string note_of(Json const& item, calc::Answer const& plan, Outage const& outage)
{
    std::string note = text_member(item, "note");
    auto const add = [&](std::string const& text) { note += (note.empty() ? "" : "; ") + text; };
    std::string const name = text_member(item, "name");
    if (outage.state().in_hand.contains(name))
        add("in hand");
    Json const instruments = member(plan.facts, "instruments");
    if (text_member(item, "kind") == "instrument" && instruments.is_array())
        for (auto const& one : instruments)
            if (text_member(one, "name") == name)
                add("calibration " + text_member(one, "state") + ", due " +
                    text_member(one, "calibration_due"));
    return note;
}

/// The kit by kind, in the order the plan names the kinds.
void add_kit(calc::Answer const& plan, Outage const& outage, report::JobPack& pack)
{
    Json const kit = member(plan.facts, "kit");
    if (!kit.is_array())
        return;
    for (auto const& item : kit) {
        std::string kind = text_member(item, "kind");
        if (!kind.empty())
            kind[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(kind[0])));
        auto group =
            std::find_if(pack.kit.begin(), pack.kit.end(), [&](auto const& g) { return g.title == kind; });
        if (group == pack.kit.end()) {
            pack.kit.push_back({kind, {}});
            group = pack.kit.end() - 1;
        }
        double const cost = number_member(item, "cost");
        group->lines.push_back(
            {show_short(number_member(item, "quantity"), 4) + " " + text_member(item, "unit"),
             text_member(item, "name"), text_member(item, "source"),
             cost > 0.0 ? fmt::format("{:.2f}", cost) : std::string(), note_of(item, plan, outage)});
    }
}

void add_plan(Json const& tasks, report::JobPack& pack)
{
    if (!tasks.is_array())
        return;
    for (auto const& task : tasks) {
        Json const minutes = member(task, "minutes");
        if (!minutes.is_array() || minutes.size() != 3)
            continue;
        pack.plan.push_back({text_member(task, "title"), number_member(task, "start_minutes"),
                             minutes[0].get<double>(), minutes[1].get<double>(), minutes[2].get<double>(),
                             fmt::format("{:.0f} people", number_member(task, "people"))});
    }
}

/// Survey values of the first stage that are still open.
void add_unknown(Outage const& outage, report::JobPack& pack)
{
    auto const& stage = outage.checklists().stages.front();
    for (auto const& step : stage.steps) {
        auto const status = model::status_of(outage.checklists(), outage.state(), step);
        if (!model::is_closed(status))
            pack.unknown.push_back(step.title + (step.why.empty() ? "" : ": " + step.why));
    }
}

} // namespace

Result<std::string> job_pack_of(Outage const& outage)
{
    auto const plan = survey_plan(outage);
    if (!plan)
        return tl::unexpected(plan.error());
    report::JobPack pack;
    pack.subtitle =
        fmt::format("Fitting a condition-monitoring unit to {}", outage.profile().text("breaker.model"));
    pack.created = outage.state().last_at;
    pack.author = outage.state().created_by;
    pack.invented = outage.profile().invented;
    pack.block = {fact(outage, "station"),
                  fact(outage, "bay"),
                  fact(outage, "breaker"),
                  fact(outage, "job_no"),
                  outage.job() + "-P",
                  fmt::format("{}", outage.state().entries),
                  {}};
    pack.facts = {{"Breaker", outage.profile().text("breaker.model") + ", serial " + fact(outage, "serial")},
                  {"Mechanism", outage.profile().text("breaker.mechanism")},
                  {"Filling at 20 °C", outage.profile().text("gas.nominal")},
                  {"Control voltage", outage.profile().text("control.dc_nominal")},
                  {"Window", fact(outage, "window")}};
    add_kit(*plan, outage, pack);
    add_plan(member(plan->facts, "tasks"), pack);
    add_unknown(outage, pack);
    if (auto const window = parse_amount(fact(outage, "window"), Dimension::time, "window"))
        pack.window_min = window->si / 60.0;
    for (auto const& check : plan->checks)
        pack.plan_result += (pack.plan_result.empty() ? "" : " ") + check.text +
                            (check.remedy.empty() ? "" : ". " + check.remedy);
    pack.plan_mark = plan->verdict() == calc::Verdict::pass   ? drawing::Mark::pass
                     : plan->verdict() == calc::Verdict::fail ? drawing::Mark::fail
                                                              : drawing::Mark::undecided;
    for (auto const& [id, caution] : outage.checklists().cautions)
        pack.cautions.push_back({caution.title, caution.text});
    pack.footer = "Planning values. The maker's instructions, local codes and licensed practice come first.";
    return report::job_pack_pdf(pack);
}

Result<disk::Path> write_job_pack(Workspace& workspace, Outage const& outage)
{
    auto const pdf = job_pack_of(outage);
    if (!pdf)
        return tl::unexpected(pdf.error());
    auto const folder = workspace.folders().data / "packs";
    if (auto made = disk::make_durable_directory(workspace.disk(), folder); !made)
        return tl::unexpected(made.error());
    // The number of entries names what the pack knew; the same knowledge gives the same bytes.
    auto const file = folder / fmt::format("{}-{:03}.pdf", outage.job(), outage.state().entries);
    if (auto kept = disk::keep_whole(workspace.disk(), file, *pdf); !kept)
        return tl::unexpected(kept.error());
    return file;
}

} // namespace isochore::session
