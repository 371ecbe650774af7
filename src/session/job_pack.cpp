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

/// What is to be said of a part: its own note, and whether it is in hand.
std::string note_of(Json const& item, Outage const& outage)
{
    std::string note = text_member(item, "note");
    if (outage.state().in_hand.contains(text_member(item, "name")))
        note += std::string(note.empty() ? "" : "; ") + "in hand";
    return note;
}

/// Where a line of the kit is from, for a person: the step whose calculation gave it, or what its data say.
std::string known_from(Outage const& outage, std::string const& source)
{
    if (source.starts_with("assets/"))
        return "parts library, planning value";
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps)
            if (step.kind == model::StepKind::compute && step.call && step.call->calc == source)
                return step.title;
    return source == "fill.topup" ? "Gas to bring" : source == "mount.fasteners" ? "planning value" : source;
}

constexpr struct {
    std::string_view kind;
    char const* title;
} group_titles[] = {{"fitting", "Fittings"},
                    {"gas", "Gas and cylinders"},
                    {"part", "Other parts"},
                    {"consumable", "Wire and consumables"},
                    {"instrument", "Instruments"},
                    {"tool", "Tools"},
                    {"protective", "Protective equipment"}};

/// The kit by kind, as the kit list in the window has it.
void add_kit(calc::Answer const& plan, Outage const& outage, report::JobPack& pack)
{
    Json const kit = member(plan.facts, "kit");
    for (auto const& [kind, title] : group_titles) {
        report::KitGroup group{title, {}};
        for (auto const& item : kit) {
            if (text_member(item, "kind") != kind)
                continue;
            double const cost = number_member(item, "cost");
            group.lines.push_back(
                {show_short(number_member(item, "quantity"), 4) + " " + text_member(item, "unit"),
                 text_member(item, "name"), known_from(outage, text_member(item, "source")),
                 cost > 0.0 ? fmt::format("{:.2f}", cost) : std::string(), note_of(item, outage)});
        }
        if (!group.lines.empty())
            pack.kit.push_back(std::move(group));
    }
    if (auto const* cost = plan.find("cost"))
        pack.kit_total = fmt::format(
            "Together {:.2f}, of what has a cost here; without gas, hire and travel.", cost->value);
}

void add_plan(Json const& tasks, report::JobPack& pack)
{
    if (!tasks.is_array())
        return;
    for (auto const& task : tasks) {
        Json const minutes = member(task, "minutes");
        if (!minutes.is_array() || minutes.size() != 3)
            continue;
        double const people = number_member(task, "people");
        pack.plan.push_back({fmt::format("{} ({:.0f} {})", text_member(task, "title"), people,
                                         people == 1.0 ? "person" : "people"),
                             number_member(task, "start_minutes"),
                             minutes[0].get<double>(),
                             minutes[1].get<double>(),
                             minutes[2].get<double>(),
                             {}});
    }
}

std::string as_sentence(std::string text)
{
    if (!text.empty())
        text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    if (!text.empty() && text.back() != '.')
        text += '.';
    return text;
}

/// Each check of the plan for itself, what fails first, and the chain of stages that decides its length.
void add_plan_results(calc::Answer const& plan, report::JobPack& pack)
{
    for (bool const bad : {true, false})
        for (auto const& check : plan.checks) {
            if ((check.verdict != calc::Verdict::pass) != bad || check.name.starts_with("calibration "))
                continue;
            auto const mark = check.verdict == calc::Verdict::pass   ? drawing::Mark::pass
                              : check.verdict == calc::Verdict::fail ? drawing::Mark::fail
                                                                     : drawing::Mark::undecided;
            pack.plan_results.emplace_back(mark, as_sentence(check.text) + (check.remedy.empty() ? "" : " ") +
                                                     as_sentence(check.remedy));
        }
    std::string path;
    for (auto const& id : member(plan.facts, "critical_path"))
        for (auto const& task : member(plan.facts, "tasks"))
            if (id == text_member(task, "id"))
                path += (path.empty() ? "" : ", ") + text_member(task, "title");
    if (!path.empty())
        pack.plan_results.emplace_back(drawing::Mark::none,
                                       "Critical path, where a delay delays the end: " + path + ".");
}

void add_table(report::RecordTable table, report::JobPack& pack)
{
    if (!table.rows.empty())
        pack.tables.push_back(std::move(table));
}

/// Every instrument of the kit with its date: one past it spoils what is read with it.
void add_instruments(calc::Answer const& plan, Outage const& outage, report::JobPack& pack)
{
    report::RecordTable table;
    table.title = "Calibration of the instruments";
    table.heads = {"instrument", "due", "state"};
    for (auto const& item : member(plan.facts, "kit")) {
        if (text_member(item, "kind") != "instrument")
            continue;
        std::string const name = text_member(item, "name");
        auto const due = outage.state().calibration_due.find(name);
        std::string state = "date not entered yet";
        for (auto const& one : member(plan.facts, "instruments"))
            if (text_member(one, "name") == name)
                state = text_member(one, "state");
        if (state.starts_with("expire"))
            state = "TAKE ANOTHER: " + state;
        table.rows.push_back({name, due == outage.state().calibration_due.end() ? "–" : due->second, state});
    }
    add_table(std::move(table), pack);
}

/// The same plan with one to four people.
void add_crew(calc::Answer const& plan, report::JobPack& pack)
{
    report::RecordTable table;
    table.title = "What another pair of hands is worth";
    table.heads = {"crew", "mean time", "chance inside the window"};
    table.right = {true, true, true};
    for (auto const& option : member(plan.facts, "crew_options"))
        table.rows.push_back({fmt::format("{:.0f}", number_member(option, "crew")),
                              show_span(number_member(option, "mean_minutes") * 60.0),
                              fmt::format("{:.1f} %", number_member(option, "chance") * 100.0)});
    add_table(std::move(table), pack);
}

/// Wires to cut, from the recorded cable list.
void add_wires(Outage const& outage, report::JobPack& pack)
{
    report::RecordTable table;
    table.title = "Wires to cut";
    table.heads = {"run", "conductors", "cut length"};
    table.right = {false, true, true};
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps) {
            if (step.kind != model::StepKind::compute || !step.call || step.call->calc != "mount.cables")
                continue;
            Json const& result = outage.state().record(step.id).result;
            for (auto const& run : member(result.is_object() ? member(result, "results") : Json(), "runs"))
                table.rows.push_back(
                    {text_member(run, "name"), fmt::format("{:.0f}", number_member(run, "conductors")),
                     fmt::format("{:.2f} m", number_member(member(run, "cut_length"), "value"))});
        }
    add_table(std::move(table), pack);
}

/// What the survey found, so that those who were not there know what the kit rests on.
void add_survey(Outage const& outage, report::JobPack& pack)
{
    report::RecordTable table;
    table.title = "What the survey found";
    table.heads = {"question", "found", "by"};
    for (auto const& stage : outage.checklists().stages) {
        if (!stage.before_window)
            continue;
        for (auto const& step : stage.steps) {
            auto const& record = outage.state().record(step.id);
            std::string const found = recorded_value(outage, step);
            if (!found.empty() && model::applies(outage.checklists(), outage.state(), step) != false)
                table.rows.push_back({step.title, found, record.who});
        }
    }
    add_table(std::move(table), pack);
}

/// Pictures of what was worked out beforehand: chain, wiring, resistor.
void add_pictures(Outage const& outage, report::JobPack& pack)
{
    for (auto& stage : record_stages(outage))
        if (stage.number == std::to_string(outage.checklists().stages.front().order))
            for (auto& picture : stage.pictures)
                pack.pictures.push_back(std::move(picture));
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

Result<report::JobPack> job_pack_content(Outage const& outage)
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
    add_plan_results(*plan, pack);
    add_instruments(*plan, outage, pack);
    add_wires(outage, pack);
    add_crew(*plan, pack);
    add_survey(outage, pack);
    add_pictures(outage, pack);
    for (auto const& [id, caution] : outage.checklists().cautions)
        pack.cautions.push_back({caution.title, caution.text});
    pack.footer = "Planning values. The maker's instructions, local codes and licensed practice come first.";
    return pack;
}

Result<std::string> job_pack_of(Outage const& outage)
{
    auto const pack = job_pack_content(outage);
    if (!pack)
        return tl::unexpected(pack.error());
    return report::job_pack_pdf(*pack);
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
