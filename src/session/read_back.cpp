#include "session/read_back.h"
#include "media/set_names.h"
#include "media/stick_answers.h"
#include "media/stick_folder.h"
#include "session/stick.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using Code = Error::Code;
using State = media::ReadBackRow::State;

namespace {

constexpr std::string_view report_folder = "READBACK";
constexpr std::size_t most_report_bytes = 64u << 10, most_reports = 100;

bool contradicts(media::ReadBackRow const& row)
{
    return row.state == State::differs || row.state == State::unreadable;
}

std::string answer_of(model::Step const& step, bool ok)
{
    for (auto const& a : step.answers)
        if (a.ok == ok)
            return a.id;
    return {};
}

std::string listed(std::vector<std::string> const& names)
{
    std::string text;
    for (auto const& name : names)
        text += (text.empty() ? "" : ", ") + name;
    return text;
}

void judge(model::Step const& step, ReadBack& out)
{
    std::vector<std::string> wrong;
    for (auto const& row : out.rows)
        if (contradicts(row))
            wrong.push_back(row.label + ": " + row.detail);
    Evaluation& e = out.evaluation;
    if (!wrong.empty()) {
        e.verdict = "fail";
        out.answer = answer_of(step, false);
        e.reason = wrong.front() + (wrong.size() > 1 ? fmt::format("; and {} more", wrong.size() - 1) : "");
        for (auto const& a : step.answers)
            if (a.id == out.answer)
                e.remedy = a.then;
    } else if (!out.missing.empty()) {
        e.verdict = "undecided";
        e.reason = fmt::format("Not read yet: {}.", listed(out.missing));
        e.remedy = "Read these from the unit too.";
    } else {
        e.verdict = "pass";
        out.answer = answer_of(step, true);
        e.reason = fmt::format("{} of {} settings read back, each as loaded", out.read, out.rows.size());
    }
    e.rule = "A number is the same when it rounds to what the unit shows.";
    e.result = {{"rows", media::to_json(out.rows)}, {"read", out.read}};
    e.inputs = Json::object();
}

} // namespace

media::UnitSettings settings_of(Outage const& outage)
{
    return media::layer(outage.profile(), unit_values_of(outage));
}

ReadBack compare_with_unit(Outage const& outage, model::Step const& step, ShownValues const& shown)
{
    ReadBack out;
    out.rows = media::compare_read_back(settings_of(outage), shown);
    auto const must = [&](media::ReadBackRow const& row) {
        return std::find(step.compare.begin(), step.compare.end(), row.path) != step.compare.end();
    };
    // The checklist's own order first: it is the order in which they are asked for.
    auto const order = [&](media::ReadBackRow const& row) {
        return std::find(step.compare.begin(), step.compare.end(), row.path) - step.compare.begin();
    };
    std::stable_sort(out.rows.begin(), out.rows.end(),
                     [&](auto const& a, auto const& b) { return order(a) < order(b); });
    for (auto const& row : out.rows) {
        out.read += row.state != State::not_shown;
        if (row.state == State::not_shown && must(row))
            out.missing.push_back(row.label);
    }
    judge(step, out);
    return out;
}

ReadBack compare_with_unit(Outage const& outage, model::Step const& step)
{
    return compare_with_unit(outage, step, outage.state().record(step.id).shown);
}

Result<UnitReport> find_unit_report(disk::Disk& disk, disk::Path const& target, std::string_view unit_serial)
{
    auto const ours = media::find_stick_folder(disk, target);
    if (!ours)
        return tl::unexpected(ours.error());
    auto const items = disk.list(ours->path);
    if (!items)
        return tl::unexpected(items.error());
    auto const folder = std::find_if(items->begin(), items->end(), [](auto const& item) {
        return item.directory && media::upper_case(item.name) == report_folder;
    });
    if (folder == items->end())
        return fail(Code::not_found, target.string(),
                    "the unit has left nothing here: no folder ISOCHORE/READBACK; type what it shows");
    auto const files = disk.list(ours->path / folder->name);
    if (!files)
        return tl::unexpected(files.error());
    std::optional<Error> refused;
    std::vector<std::string> others;
    std::size_t looked = 0;
    for (auto const& file : *files) {
        if (!file.regular || !media::is_safe_name(media::upper_case(file.name)) || ++looked > most_reports)
            continue;
        std::string const name = fmt::format("{}/{}", report_folder, media::upper_case(file.name));
        auto const text = disk.read(ours->path / folder->name / file.name, most_report_bytes);
        auto values =
            text ? media::read_settings(*text, name) : Result<ShownValues>(tl::unexpected(text.error()));
        if (!values) {
            refused = values.error();
            continue;
        }
        auto const serial = values->find("unit.serial");
        if (serial != values->end() && serial->second == unit_serial)
            return UnitReport{name, std::move(*values)};
        others.push_back(serial == values->end() ? std::string("no serial number") : serial->second);
    }
    if (refused)
        return tl::unexpected(*refused);
    if (others.empty())
        return fail(Code::not_found, target.string(), "the folder ISOCHORE/READBACK is empty");
    return fail(Code::not_found, target.string(),
                fmt::format("the stick comes from another unit: {} is wanted, it has {}", unit_serial,
                            listed(others)));
}

} // namespace isochore::session
