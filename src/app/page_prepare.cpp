#include "app/page_prepare.h"
#include "app/outage_frame.h"
#include "app/page_step.h"
#include "app/pages.h"
#include "session/display.h"
#include "json/member.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

/// "expired", "expires before the job", "in date" or "unknown" of an instrument, as the plan says it.
std::string calibration_word(calc::Answer const& plan, std::string const& name)
{
    Json const list = member(plan.facts, "instruments");
    if (list.is_array())
        for (auto const& one : list)
            if (text_member(one, "name") == name)
                return text_member(one, "state");
    return "unknown";
}

struct Line {
    std::string state;
    Mark mark = Mark::open;
};

/// In hand or not; an instrument also needs its date.
Line line_of(Desk& desk, calc::Answer const& plan, Json const& item)
{
    auto const& words = desk.words;
    std::string const name = text_member(item, "name");
    bool const in_hand = desk.outage->state().in_hand.contains(name);
    if (text_member(item, "kind") != "instrument")
        return in_hand ? Line{words("in hand"), Mark::pass} : Line{words("MISSING"), Mark::open};
    std::string const due = calibration_word(plan, name);
    if (due == "expired" || due == "expires before the job")
        return {due == "expired" ? words("CALIBRATION EXPIRED") : words("EXPIRES BEFORE THE JOB"),
                Mark::fail};
    if (!in_hand)
        return {words("MISSING"), Mark::open};
    return due == "in date" ? Line{words("in hand, in date"), Mark::pass}
                            : Line{words("in hand, date not known"), Mark::undecided};
}

std::string kind_heading(Words const& words, std::string const& kind)
{
    if (kind == "instrument")
        return words("Instruments");
    if (kind == "tool")
        return words("Tools");
    if (kind == "protective")
        return words("Protective equipment");
    if (kind == "gas")
        return words("Gas and cylinders");
    if (kind == "fitting")
        return words("Fittings");
    return kind == "consumable" ? words("Consumables") : words("Other parts");
}

/// What the plan says against the window; empty where nothing does.
std::string window_problem(Words const& words, calc::Answer const& plan)
{
    std::string text;
    for (auto const& check : plan.checks)
        if ((check.name == "window" || check.name == "latest start") && check.verdict != calc::Verdict::pass)
            text += (text.empty() ? "" : "; ") + words.sentence(check.text);
    return text;
}

std::string minutes_text(double seconds)
{
    return session::show_span(std::max(0.0, seconds));
}

} // namespace

void PreparePage::work_out(Desk& desk)
{
    if (m_entries == desk.outage->state().entries && m_plan)
        return;
    m_entries = desk.outage->state().entries;
    m_plan = session::survey_plan(*desk.outage);
}

void PreparePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    work_out(desk);
    frame_outage(desk, sheet, "prepare");
    auto const& words = desk.words;
    screens::TableView table;
    table.heading = words("Kit and plan");
    table.columns = {{words("Part"), 3.0, false},
                     {words("Quantity"), 1.0, true},
                     {words("Cost"), 0.8, true},
                     {words("State"), 1.8, false}};
    table.actions = {{"back", words("Back"), {}, false, true, false}};
    if (!*m_plan) {
        table.notice = screens::VerdictView{Mark::undecided, words("Not ready"), words.sentence(m_plan->error().detail), {}};
        sheet.table = std::move(table);
        return;
    }
    calc::Answer const& plan = **m_plan;
    Json const kit = member(plan.facts, "kit");
    int missing = 0, all = 0, bad = 0;
    for (char const* kind : {"fitting", "gas", "part", "consumable", "instrument", "tool", "protective"}) {
        bool headed = false;
        for (auto const& item : kit) {
            if (text_member(item, "kind") != kind)
                continue;
            Line const line = line_of(desk, plan, item);
            ++all;
            missing += line.mark == Mark::open ? 1 : 0;
            bad += line.mark == Mark::fail ? 1 : 0;
            if (m_missing_only && line.mark == Mark::pass)
                continue;
            if (!headed)
                table.rows.push_back({kind, {kind_heading(words, kind)}, Mark::none, false, false});
            headed = true;
            double const cost = number_member(item, "cost");
            std::string const name = text_member(item, "name");
            table.rows.push_back(
                {name,
                 {words.sentence(name),
                   show_short(number_member(item, "quantity"), 4) + " " +
                       words.sentence(text_member(item, "unit")),
                  cost > 0.0 ? fmt::format("{:.2f}", cost) : std::string(), line.state},
                 line.mark,
                 true,
                 false});
        }
    }
    if (auto const* cost = plan.find("cost"))
        table.rows.push_back({"total",
                              {words("Together"), "", fmt::format("{:.2f}", cost->value), ""},
                              Mark::none,
                              false,
                              true});
    auto const* duration = plan.find("duration");
    table.text = words("{} of {} in hand; work in the window about {}. A tap ticks a part off.",
                       {std::to_string(all - missing - bad), std::to_string(all),
                        duration ? minutes_text(duration->value) : "–"});
    table.filters = {{"missing", words("Show"),
                      m_missing_only ? words("what is missing") : words("all parts"), m_missing_only}};
    // The list needs the room: only what stands in the way is said above it.
    if (bad > 0)
        table.notice = screens::VerdictView{Mark::fail,
                                            words("Out of date: {}", {std::to_string(bad)}),
                                            words("An expired instrument spoils the record: take another."),
                                            {}};
    else if (auto const text = window_problem(words, plan); !text.empty())
        table.notice = screens::VerdictView{Mark::undecided, words("The window is short"), text, {}};
    sheet.table = std::move(table);
}

void PreparePage::type_due(Desk& desk, std::string const& name)
{
    EntryRequest r;
    r.label = desk.words("Calibration due");
    r.context = desk.words.sentence(name) + desk.words(": year-month-day, 2027-03-31");
    r.text = true;
    if (auto const it = desk.outage->state().calibration_due.find(name);
        it != desk.outage->state().calibration_due.end())
        r.typed = it->second;
    r.judge = [&desk](std::string const& whole) {
        bool good = whole.size() == 10 && whole[4] == '-' && whole[7] == '-';
        for (std::size_t i = 0; good && i < 10; ++i)
            good = i == 4 || i == 7 || (whole[i] >= '0' && whole[i] <= '9');
        return EntryJudgement{
            {}, good || whole.empty() ? std::string() : desk.words("Write it as 2027-03-31."), {}};
    };
    r.done = [&desk, name](std::string const& typed, std::string const&) {
        for (Json body : {Json{{"type", "calibration"}, {"instrument", name}, {"due", typed}},
                          Json{{"type", "in_hand"}, {"part", name}, {"in_hand", true}}})
            if (auto const noted = desk.outage->note(std::move(body)); !noted)
                return desk.report(noted.error());
    };
    desk.entry.open(std::move(r));
}

void PreparePage::tap_row(Desk& desk, std::string const& name)
{
    bool const in_hand = desk.outage->state().in_hand.contains(name);
    for (auto const& item : member((*m_plan)->facts, "kit"))
        if (text_member(item, "name") == name && text_member(item, "kind") == "instrument" && !in_hand)
            return type_due(desk, name);
    if (auto const noted = desk.outage->note({{"type", "in_hand"}, {"part", name}, {"in_hand", !in_hand}});
        !noted)
        desk.report(noted.error());
}

void PreparePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::stage)
        desk.go(std::make_unique<JumpPage>(intent.id));
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<StepPage>("prepare.kit"));
    else if (intent.kind == Intent::Kind::row && m_plan && *m_plan)
        tap_row(desk, intent.id);
    else if (intent.id == "missing")
        m_missing_only = !m_missing_only;
}

} // namespace isochore::app
