#include "cli/answers.h"
#include "cli/bench.h"
#include "cli/stick_commands.h"
#include "media/capacity_check.h"
#include "media/stick_answers.h"
#include "quantity/near_names.h"
#include "session/read_back.h"
#include "session/stick.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

model::Step const* comparing_step(session::Outage const& outage)
{
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps)
            if (!step.compare.empty())
                return &step;
    return nullptr;
}

std::vector<std::string> setting_paths(media::UnitSettings const& settings)
{
    std::vector<std::string> paths;
    for (auto const& setting : settings.settings)
        paths.push_back(setting.path);
    return paths;
}

/// What was typed, over what the unit left on its stick.
Result<session::UnitReport> shown_values(disk::Disk& disk, session::Outage const& outage,
                                         StickOptions const& o)
{
    session::UnitReport report;
    auto const settings = session::settings_of(outage);
    if (!o.folder.empty()) {
        auto const* serial = settings.find("unit.serial");
        auto found = session::find_unit_report(disk, o.folder, serial ? serial->value : std::string());
        if (!found)
            return found;
        report = std::move(*found);
    }
    auto const typed = split_values(o.values);
    if (!typed)
        return tl::unexpected(typed.error());
    // A unit may show what was not loaded; a person who types that has slipped.
    for (auto const& [path, text] : *typed) {
        if (!settings.find(path))
            return fail(Error::Code::unknown, path,
                        "no such setting was loaded" + near_it(path, setting_paths(settings)));
        report.values[path] = text;
    }
    if (report.values.empty())
        return fail(Error::Code::missing_input, "--value",
                    "give what the unit shows: --value PATH=TEXT, or --from the folder of its stick");
    return report;
}

void say_rows(std::ostream& out, session::ReadBack const& compared)
{
    for (auto const& row : compared.rows)
        out << fmt::format("{:<34} {:<24} {:<24} {}\n", row.label, row.expected, row.shown,
                           media::state_name(row.state));
    auto const& e = compared.evaluation;
    out << e.verdict << ": " << e.reason;
    if (!e.remedy.empty())
        out << " " << e.remedy;
    out << '\n';
}

} // namespace

int stick_readback_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto open = open_outage(places, o);
    if (!open)
        return say_error(out, open.error(), o.json);
    auto& outage = *open->outage;
    auto const* step = comparing_step(outage);
    if (!step)
        return say_error(out, {Error::Code::not_found, o.job, "its checklists have no step that compares"},
                         o.json);
    auto const shown = shown_values(open->bench->workspace->disk(), outage, o);
    if (!shown)
        return say_error(out, shown.error(), o.json);
    auto const compared = session::compare_with_unit(outage, *step, shown->values);
    if (o.record) {
        if (auto const noted = outage.add_shown(step->id, shown->values, shown->file, true); !noted)
            return say_error(out, noted.error(), o.json);
        if (auto const done = outage.record_comparison(step->id, o.reader, o.doer); !done)
            return say_error(out, done.error(), o.json);
    }
    if (o.json)
        say_json(out, {{"step", step->id},
                       {"verdict", compared.evaluation.verdict},
                       {"reason", compared.evaluation.reason},
                       {"missing", compared.missing},
                       {"rows", media::to_json(compared.rows)},
                       {"recorded", o.record}});
    else
        say_rows(out, compared);
    return compared.evaluation.verdict == "pass" ? 0 : 1;
}

int stick_release_command(StickOptions const& o, std::ostream& out)
{
    // Only what was found as a stick is ever unmounted: a folder given by mistake must stay where it is.
    auto const view = media::SystemView::of_this_machine();
    if (!view)
        return say_error(out, view.error(), o.json);
    bool stick = false;
    for (auto const& t : media::find_sticks(*view, std::nullopt).targets)
        stick = stick || (t.use != media::StickTarget::Use::refused && t.folder == disk::Path(o.folder));
    if (!stick)
        if (auto const folder = media::folder_target(*view, o.folder); !folder)
            return say_error(out, folder.error(), o.json);
    auto const away = session::put_away(o.folder, stick);
    if (o.json)
        say_json(out, {{"safe", away.safe}, {"say", away.say}});
    else
        out << (away.safe ? "Safe to remove. " : "Not to be pulled yet. ") << away.say << '\n';
    return away.safe ? 0 : 1;
}

int stick_check_command(StickOptions const& o, std::ostream& out)
{
    auto const view = media::SystemView::of_this_machine();
    if (!view)
        return say_error(out, view.error(), o.json);
    if (auto const target = media::folder_target(*view, o.folder); !target)
        return say_error(out, target.error(), o.json);
    auto const disk = disk::system_disk();
    session::SystemClock clock;
    auto const report = media::check_capacity(*disk, o.folder, o.megabytes * 1'000'000,
                                              static_cast<std::uint64_t>(clock.now().utc_ms));
    if (!report)
        return say_error(out, report.error(), o.json);
    if (o.json)
        say_json(out, {{"written", report->written},
                       {"kept", report->kept},
                       {"honest", report->honest},
                       {"say", report->say}});
    else
        out << report->say << '\n';
    return report->honest ? 0 : 1;
}

} // namespace isochore::cli
