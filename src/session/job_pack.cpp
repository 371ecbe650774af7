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

using language::said;
using language::Words;

namespace {

std::string fact(Outage const& outage, std::string_view name)
{
    auto const it = outage.state().facts.find(name);
    return it == outage.state().facts.end() ? std::string() : it->second;
}

/// What is to be said of a part: its own note, and whether it is in hand.
std::string note_of(Json const& item, Outage const& outage, Words const& words)
{
    std::string note = words.sentence(text_member(item, "note"));
    if (outage.state().in_hand.contains(text_member(item, "name")))
        note += (note.empty() ? "" : "; ") + words("in hand");
    return note;
}

/// Where a line of the kit is from, for a person: the step whose calculation gave it, or what its data say.
std::string known_from(Outage const& outage, std::string const& source, Words const& words)
{
    if (source.starts_with("assets/"))
        return words("parts library, planning value");
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps)
            if (step.kind == model::StepKind::compute && step.call && step.call->calc == source)
                return words.title(step);
    return source == "fill.topup"        ? words("Gas to bring")
           : source == "mount.fasteners" ? words("planning value")
                                         : words.sentence(source);
}

constexpr struct {
    std::string_view kind;
    char const* title;
} group_titles[] = {{"fitting", said("Fittings")},
                    {"gas", said("Gas and cylinders")},
                    {"part", said("Other parts")},
                    {"consumable", said("Wire and consumables")},
                    {"instrument", said("Instruments")},
                    {"tool", said("Tools")},
                    {"protective", said("Protective equipment")}};

/// The kit by kind, as the kit list in the window has it.
void add_kit(calc::Answer const& plan, Outage const& outage, Words const& words, report::JobPack& pack)
{
    Json const kit = member(plan.facts, "kit");
    for (auto const& [kind, title] : group_titles) {
        report::KitGroup group{words(title), {}};
        for (auto const& item : kit) {
            if (text_member(item, "kind") != kind)
                continue;
            double const cost = number_member(item, "cost");
            group.lines.push_back(
                {show_short(number_member(item, "quantity"), 4) + " " + words(text_member(item, "unit")),
                 words.sentence(text_member(item, "name")),
                 known_from(outage, text_member(item, "source"), words),
                 cost > 0.0 ? fmt::format("{:.2f}", cost) : std::string(), note_of(item, outage, words)});
        }
        if (!group.lines.empty())
            pack.kit.push_back(std::move(group));
    }
    if (auto const* cost = plan.find("cost"))
        pack.kit_total = words("Together {}, of what has a cost here; without gas, hire and travel.",
                               {fmt::format("{:.2f}", cost->value)});
}

void add_plan(Outage const& outage, calc::Answer const& plan, Words const& words, report::JobPack& pack)
{
    Json const tasks = member(plan.facts, "tasks"), critical = member(plan.facts, "critical_path");
    if (!tasks.is_array())
        return;
    if (auto const* end = plan.find("duration"))
        pack.plan_end = drawing::PlannedEnd{end->value / 60.0, end->low.value_or(end->value) / 60.0,
                                            end->high.value_or(end->value) / 60.0};
    for (auto const& task : tasks) {
        Json const minutes = member(task, "minutes");
        if (!minutes.is_array() || minutes.size() != 3)
            continue;
        double const people = number_member(task, "people");
        pack.plan.push_back(
            {fmt::format("{} ({:.0f} {})", words.title_of(outage.checklists(), text_member(task, "title")),
                         people, words(people == 1.0 ? said("person") : said("people"))),
             number_member(task, "start_minutes"),
             minutes[0].get<double>(),
             minutes[1].get<double>(),
             minutes[2].get<double>(),
             {},
             number_member(task, "finish_minutes"),
             static_cast<int>(std::clamp(people, 0.0, 20.0)),
             critical.is_array() &&
                 std::find(critical.begin(), critical.end(), text_member(task, "id")) != critical.end()});
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
void add_plan_results(Outage const& outage, calc::Answer const& plan, Words const& words,
                      report::JobPack& pack)
{
    for (bool const bad : {true, false})
        for (auto const& check : plan.checks) {
            if ((check.verdict != calc::Verdict::pass) != bad || check.name.starts_with("calibration "))
                continue;
            auto const mark = check.verdict == calc::Verdict::pass   ? drawing::Mark::pass
                              : check.verdict == calc::Verdict::fail ? drawing::Mark::fail
                                                                     : drawing::Mark::undecided;
            pack.plan_results.emplace_back(mark, as_sentence(words.sentence(check.text)) +
                                                     (check.remedy.empty() ? "" : " ") +
                                                     as_sentence(words.sentence(check.remedy)));
        }
    std::string path;
    for (auto const& id : member(plan.facts, "critical_path"))
        for (auto const& task : member(plan.facts, "tasks"))
            if (id == text_member(task, "id"))
                path += (path.empty() ? "" : ", ") +
                        words.title_of(outage.checklists(), text_member(task, "title"));
    if (!path.empty())
        pack.plan_results.emplace_back(drawing::Mark::none,
                                       words("Critical path, where a delay delays the end: {}.", {path}));
}

void add_table(report::RecordTable table, report::JobPack& pack)
{
    if (!table.rows.empty())
        pack.tables.push_back(std::move(table));
}

/// Every instrument of the kit with its date: one past it spoils what is read with it.
void add_instruments(calc::Answer const& plan, Outage const& outage, Words const& words,
                     report::JobPack& pack)
{
    report::RecordTable table;
    table.title = words("Calibration of the instruments");
    table.heads = {words("instrument"), words("due"), words("state")};
    for (auto const& item : member(plan.facts, "kit")) {
        if (text_member(item, "kind") != "instrument")
            continue;
        std::string const name = text_member(item, "name");
        auto const due = outage.state().calibration_due.find(name);
        std::string state = words("date not entered yet");
        bool expired = false;
        for (auto const& one : member(plan.facts, "instruments"))
            if (text_member(one, "name") == name) {
                state = words.sentence(text_member(one, "state"));
                expired = text_member(one, "state").starts_with("expire");
            }
        if (expired)
            state = words("TAKE ANOTHER: {}", {state});
        table.rows.push_back(
            {words.sentence(name), due == outage.state().calibration_due.end() ? "–" : due->second, state});
    }
    add_table(std::move(table), pack);
}

/// The same plan with one to four people.
void add_crew(calc::Answer const& plan, Words const& words, report::JobPack& pack)
{
    report::RecordTable table;
    table.title = words("What another pair of hands is worth");
    table.heads = {words("crew"), words("mean time"), words("chance inside the window")};
    table.right = {true, true, true};
    for (auto const& option : member(plan.facts, "crew_options"))
        table.rows.push_back({fmt::format("{:.0f}", number_member(option, "crew")),
                              show_span(number_member(option, "mean_minutes") * 60.0),
                              fmt::format("{:.1f} %", number_member(option, "chance") * 100.0)});
    add_table(std::move(table), pack);
}

/// Wires to cut, from the recorded cable list.
void add_wires(Outage const& outage, Words const& words, report::JobPack& pack)
{
    report::RecordTable table;
    table.title = words("Wires to cut");
    table.heads = {words("run"), words("conductors"), words("cut length")};
    table.right = {false, true, true};
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps) {
            if (step.kind != model::StepKind::compute || !step.call || step.call->calc != "mount.cables")
                continue;
            Json const& result = outage.state().record(step.id).result;
            for (auto const& run : member(result.is_object() ? member(result, "results") : Json(), "runs"))
                table.rows.push_back(
                    {words.sentence(text_member(run, "name")),
                     fmt::format("{:.0f}", number_member(run, "conductors")),
                     fmt::format("{:.2f} m", number_member(member(run, "cut_length"), "value"))});
        }
    add_table(std::move(table), pack);
}

/// What the survey found, so that those who were not there know what the kit rests on.
void add_survey(Outage const& outage, Words const& words, report::JobPack& pack)
{
    report::RecordTable table;
    table.title = words("What the survey found");
    table.heads = {words("question"), words("found"), words("by")};
    for (auto const& stage : outage.checklists().stages) {
        if (!stage.before_window)
            continue;
        for (auto const& step : stage.steps) {
            auto const& record = outage.state().record(step.id);
            std::string const found = recorded_value(outage, step, words);
            if (!found.empty() && model::applies(outage.checklists(), outage.state(), step) != false)
                table.rows.push_back({words.title(step), found, record.who});
        }
    }
    add_table(std::move(table), pack);
}

/// Pictures of what was worked out beforehand: chain, wiring, resistor. The plan stands on the first sheet.
void add_pictures(Outage const& outage, Words const& words, report::JobPack& pack)
{
    auto const* plan = plan_step(outage.checklists());
    std::string const planned = plan ? words.title(*plan) : std::string();
    for (auto& stage : record_stages(outage, words))
        if (stage.number == std::to_string(outage.checklists().stages.front().order))
            for (auto& picture : stage.pictures)
                if (picture.caption != planned)
                    pack.pictures.push_back(std::move(picture));
}

/// Survey values of the first stage that are still open.
void add_unknown(Outage const& outage, Words const& words, report::JobPack& pack)
{
    auto const& stage = outage.checklists().stages.front();
    for (auto const& step : stage.steps) {
        auto const status = model::status_of(outage.checklists(), outage.state(), step);
        if (!model::is_closed(status))
            pack.unknown.push_back(words.title(step) + (step.why.empty() ? "" : ": " + words.why(step)));
    }
}

} // namespace

Result<report::JobPack> job_pack_content(Outage const& outage, Words const& words)
{
    auto const plan = survey_plan(outage);
    if (!plan)
        return tl::unexpected(plan.error());
    report::JobPack pack;
    pack.translate = words.for_pictures();
    pack.title = words("Job pack");
    pack.subtitle =
        words("Fitting a condition-monitoring unit to {}", {outage.profile().text("breaker.model")});
    pack.created = outage.state().last_at;
    pack.author = outage.state().created_by;
    pack.invented = outage.profile().invented;
    pack.block = {fact(outage, "station"),
                  fact(outage, "bay"),
                  fact(outage, "breaker"),
                  fact(outage, "job_no"),
                  outage.job() + "-P",
                  std::to_string(outage.state().entries),
                  {}};
    pack.facts = {{words("Breaker"),
                   words("{}, serial {}", {outage.profile().text("breaker.model"), fact(outage, "serial")})},
                  {words("Mechanism"), words.sentence(outage.profile().text("breaker.mechanism"))},
                  {words("Filling at 20 °C"), outage.profile().text("gas.nominal")},
                  {words("Control voltage"), outage.profile().text("control.dc_nominal")},
                  {words("Window"), fact(outage, "window")}};
    add_kit(*plan, outage, words, pack);
    add_plan(outage, *plan, words, pack);
    add_unknown(outage, words, pack);
    if (auto const window = parse_amount(fact(outage, "window"), Dimension::time, "window"))
        pack.window_min = window->si / 60.0;
    add_plan_results(outage, *plan, words, pack);
    add_instruments(*plan, outage, words, pack);
    add_wires(outage, words, pack);
    add_crew(*plan, words, pack);
    add_survey(outage, words, pack);
    add_pictures(outage, words, pack);
    for (auto const& [id, caution] : outage.checklists().cautions)
        pack.cautions.push_back({words.title(caution), words.text(caution)});
    pack.footer =
        words("Planning values. The maker's instructions, local codes and licensed practice come first.");
    return pack;
}

Result<std::string> job_pack_of(Outage const& outage, Words const& words)
{
    auto const pack = job_pack_content(outage, words);
    if (!pack)
        return tl::unexpected(pack.error());
    return report::job_pack_pdf(*pack);
}

Result<disk::Path> write_job_pack(Workspace& workspace, Outage const& outage, Words const& words)
{
    auto const pdf = job_pack_of(outage, words);
    if (!pdf)
        return tl::unexpected(pdf.error());
    auto const folder = workspace.folders().data / "packs";
    if (auto made = disk::make_durable_directory(workspace.disk(), folder); !made)
        return tl::unexpected(made.error());
    // The number of entries names what the pack knew; the same knowledge gives the same bytes.
    auto const file = folder / fmt::format("{}-{:03}{}.pdf", outage.job(), outage.state().entries,
                                           words.language() == "en" ? "" : "-" + words.language());
    if (auto kept = disk::keep_whole(workspace.disk(), file, *pdf); !kept)
        return tl::unexpected(kept.error());
    return file;
}

} // namespace isochore::session
