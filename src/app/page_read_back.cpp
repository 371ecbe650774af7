#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "session/display.h"
#include "session/read_back.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using State = media::ReadBackRow::State;

namespace {

Mark mark_of_row(State state)
{
    switch (state) {
    case State::same:
        return Mark::pass;
    case State::differs:
    case State::unreadable:
        return Mark::fail;
    case State::not_shown:
        return Mark::open;
    }
    return Mark::open;
}

bool must(model::Step const& step, std::string const& path)
{
    return std::find(step.compare.begin(), step.compare.end(), path) != step.compare.end();
}

} // namespace

model::Step const& ReadBackPage::step(Desk& desk) const
{
    return *desk.outage->checklists().step(m_step);
}

namespace {

/// A ratio has the unit 1, which nobody writes: "480 1" is 480.
std::string without_one(std::string const& shown)
{
    auto const is_digit = [](char c) { return c >= '0' && c <= '9'; };
    bool const bare = shown.size() > 2 && shown.ends_with(" 1") && is_digit(shown[shown.size() - 3]) &&
                      shown.find(' ') == shown.size() - 2;
    return bare ? shown.substr(0, shown.size() - 2) : shown;
}

} // namespace

void ReadBackPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    auto const& s = step(desk);
    frame_outage(desk, sheet, desk.outage->checklists().stage_of(m_step)->id);
    auto const compared = session::compare_with_unit(*desk.outage, s);
    if (m_reading.running()) {
        sheet.progress = progress_view(desk, desk.words("Reading what the unit wrote"),
                                       {media::WriteProgress::Phase::reading, 0, 0, {}});
        sheet.progress->can_cancel = false;
        return;
    }
    screens::TableView table;
    table.heading = desk.words("What the unit shows");
    table.text = desk.words("One reads out, the other types. Do not look at the second column first.");
    table.columns = {{desk.words("Field"), 1.6},
                     {desk.words("Loaded"), 1.4},
                     {desk.words("Read back"), 1.4},
                     {desk.words("Outcome"), 1.2}};
    bool const any = compared.read > 0;
    if (any) {
        auto const& e = compared.evaluation;
        table.notice = screens::VerdictView{mark_of_verdict(e.verdict),
                                            e.verdict == "fail"   ? desk.words("A value differs")
                                            : e.verdict == "pass" ? desk.words("As loaded")
                                                                  : desk.words("Not all read yet"),
                                            desk.words.sentence(e.reason), desk.words.sentence(e.remedy)};
    }
    bool group = false;
    table.rows.push_back({"must", {desk.words("Must be read back")}});
    for (auto const& row : compared.rows) {
        if (!group && !must(s, row.path)) {
            group = true;
            table.rows.push_back({"may", {desk.words("Compared when given")}});
        }
        table.rows.push_back({row.path,
                              {desk.words.sentence(row.label), session::in_print(desk.words.sentence(row.expected)),
                               session::in_print(desk.words.sentence(without_one(row.shown))),
                               desk.words(media::state_name(row.state))},
                              mark_of_row(row.state),
                              row.state != State::same});
    }
    table.actions = {
        {"back", desk.words("Back"), {}, false, true, false},
        {"stick", desk.words("From its stick"), {}, false, true, false},
        {"type",
         any && compared.missing.empty() ? desk.words("Read all again") : desk.words("Type what it shows"),
         {},
         !any || !compared.missing.empty(),
         true,
         false},
        {"record", desk.words("Record comparison"), {}, any && compared.missing.empty(), any, false}};
    sheet.table = std::move(table);
}

void ReadBackPage::type(Desk& desk, std::string const& path, bool then_next)
{
    auto const settings = session::settings_of(*desk.outage);
    auto const* setting = settings.find(path);
    if (!setting)
        return;
    std::vector<std::string> choices;
    if (auto const* field = media::unit_field(path))
        choices.assign(field->choices.begin(), field->choices.end());
    auto const& shown = desk.outage->state().record(m_step).shown;
    auto const before = shown.find(path);
    auto r = entry_for(desk, desk.words.sentence(setting->label), setting->kind, setting->dimension, choices,
                       before == shown.end() || m_anew ? std::string() : before->second);
    if (auto const space = setting->value.find(' ');
        r.unit.empty() && !r.units.empty() && space != std::string::npos)
        r.unit = setting->value.substr(space + 1);
    if (r.judge) // a unit may show what cannot be read: that is a finding, not a slip
        r.judge = {};
    r.context = desk.words("As the unit shows it");
    r.done = [this, &desk, path, then_next](std::string const& typed, std::string const& unit) {
        auto const done = desk.outage->add_shown(m_step, {{path, unit.empty() ? typed : typed + " " + unit}},
                                                 {}, std::exchange(m_anew, false));
        if (!done)
            desk.report(done.error());
        else if (then_next)
            type_next(desk);
    };
    desk.entry.open(std::move(r));
}

void ReadBackPage::type_next(Desk& desk)
{
    auto const& s = step(desk);
    for (auto const& row :
         session::compare_with_unit(
             *desk.outage, s, m_anew ? session::ShownValues{} : desk.outage->state().record(m_step).shown)
             .rows)
        if (row.state == State::not_shown && must(s, row.path))
            return type(desk, row.path, true);
}

void ReadBackPage::from_stick(Desk& desk, std::string const& folder)
{
    auto const serial = session::settings_of(*desk.outage);
    auto const* unit = serial.find("unit.serial");
    m_reading.start([folder, wanted = unit ? unit->value : std::string(), &disk = desk.workspace.disk()](
                        media::Progress const&) { return session::find_unit_report(disk, folder, wanted); });
}

void ReadBackPage::tick(Desk& desk)
{
    auto const report = m_reading.take();
    if (!report)
        return;
    if (!*report)
        desk.report(report->error());
    else if (auto const done = desk.outage->add_shown(m_step, (*report)->values, (*report)->file, true);
             !done)
        desk.report(done.error());
}

void ReadBackPage::record(Desk& desk)
{
    auto const& s = step(desk);
    Pair const pair = s.challenge ? pair_of(*desk.outage, s, {}) : Pair{};
    auto const done = desk.outage->record_comparison(m_step, pair.reader, pair.doer);
    if (!done)
        desk.report(done.error());
    else
        desk.go(std::make_unique<StepPage>(done->verdict == "pass" ? std::string() : m_step));
}

void ReadBackPage::act(Desk& desk, Intent const& intent)
{
    if (m_reading.running())
        return;
    if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::row)
        type(desk, intent.id, false);
    if (intent.kind != Intent::Kind::action)
        return;
    if (intent.id == "record") {
        record(desk);
    } else if (intent.id == "type") {
        auto const& s = step(desk);
        m_anew = session::compare_with_unit(*desk.outage, s).missing.empty();
        type_next(desk);
    } else if (intent.id == "stick") {
        EntryRequest r;
        r.label = desk.words("Folder of the stick");
        r.text = true;
        if (auto const view = media::SystemView::of_this_machine())
            for (auto const& t : media::find_sticks(*view, session::usb_devices()).targets)
                if (!t.folder.empty() && t.use != media::StickTarget::Use::refused)
                    r.suggestions.push_back(t.folder.string());
        if (r.suggestions.empty() && desk.outage->state().stick)
            r.suggestions.push_back(desk.outage->state().stick->target);
        r.done = [this, &desk](std::string const& path, std::string const&) { from_stick(desk, path); };
        desk.entry.open(std::move(r));
    } else {
        desk.go(std::make_unique<StepPage>(m_step));
    }
}

} // namespace isochore::app
