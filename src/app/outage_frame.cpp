#include "app/outage_frame.h"
#include "session/display.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::app {

using screens::Mark;

Mark mark_of(model::StepStatus status, std::string_view verdict)
{
    using S = model::StepStatus;
    switch (status) {
    case S::done:
        return verdict == "pass" ? Mark::pass : Mark::recorded;
    case S::failed:
        return Mark::fail;
    case S::undecided:
    case S::reopened:
        return Mark::undecided;
    case S::deferred:
        return Mark::deferred;
    case S::not_applicable:
        return Mark::not_applicable;
    case S::overridden:
        return Mark::overridden;
    case S::in_progress:
    case S::not_started:
        return Mark::open;
    }
    return Mark::open;
}

Mark mark_of_verdict(std::string_view verdict)
{
    if (verdict == "pass")
        return Mark::pass;
    if (verdict == "fail")
        return Mark::fail;
    return verdict == "undecided" ? Mark::undecided : Mark::none;
}

namespace {

std::string hours(double seconds)
{
    long const minutes = static_cast<long>(seconds / 60.0);
    return fmt::format("{}:{:02}", minutes / 60, minutes % 60);
}

void flag_stage(model::StageProgress const& p, Words const& words, screens::StageView& view)
{
    if (p.failed) {
        view.flag = words("{} failed", {std::to_string(p.failed)});
        view.flag_mark = Mark::fail;
    } else if (p.undecided) {
        view.flag = words("{} open", {std::to_string(p.undecided)});
        view.flag_mark = Mark::undecided;
    } else if (p.deferred) {
        view.flag = words("{} later", {std::to_string(p.deferred)});
        view.flag_mark = Mark::deferred;
    }
}

} // namespace

std::string time_used(Desk& desk)
{
    auto const plan = desk.plan.now(*desk.outage);
    if (!plan)
        return "–";
    if (!plan->in_window)
        return desk.words("window {}", {hours(plan->window_s) + " h"});
    return hours(plan->used_s) + " / " + hours(plan->window_s) + " h";
}

namespace {

/// Draws that all end in time do not make it certain.
std::string chance_text(double chance)
{
    double const percent = std::floor(chance * 100.0);
    return percent < 100.0 ? fmt::format("{:.0f} %", percent) : ">99 %";
}

/// Slack, chance, and until when the gas may still be opened; over-run in words.
void fill_slack(Desk& desk, screens::TitleBlockView& block)
{
    auto const plan = desk.plan.now(*desk.outage);
    if (!plan || desk.outage->state().sealed)
        return;
    auto const& words = desk.words;
    block.slack_name = words("Slack, chance {}", {chance_text(plan->chance)});
    if (plan->left_s < 0.0)
        block.slack = words("OVER by {}", {hours(-plan->left_s) + " h"});
    else if (plan->slack_s() < 0.0)
        block.slack = words("SHORT by {}", {hours(-plan->slack_s()) + " h"});
    else
        block.slack = hours(plan->slack_s()) + " h";
    block.slack_bad = plan->slack_s() < 0.0;
    if (!plan->last_start_in_s)
        return;
    if (*plan->last_start_in_s < 0.0) {
        block.slack += ", " + words("NO GAS WORK");
        block.slack_bad = true;
    } else if (plan->in_window) {
        auto moment = desk.outage->clock().now();
        moment.utc_ms += static_cast<std::int64_t>(*plan->last_start_in_s * 1e3);
        block.slack += ", " + words("gas by {}", {session::clock_time(session::stamp(moment))});
    }
}

} // namespace

void frame_outage(Desk& desk, screens::SheetView& sheet, std::string_view current_stage)
{
    auto const& outage = *desk.outage;
    auto const& state = outage.state();
    for (auto const& stage : outage.checklists().stages) {
        auto const p = model::progress(outage.checklists(), state, stage);
        screens::StageView view;
        view.id = stage.id;
        view.label = desk.words.brief(stage);
        view.closed = p.complete();
        view.current = stage.id == current_stage;
        view.progress = fmt::format("{}/{}", p.closed, p.applicable);
        flag_stage(p, desk.words, view);
        sheet.line.push_back(std::move(view));
    }
    auto const fact = [&](std::string_view name) {
        auto const it = state.facts.find(name);
        return it == state.facts.end() ? std::string("–") : it->second;
    };
    screens::TitleBlockView block;
    block.station = fact("station");
    block.bay = fact("bay");
    block.breaker = fact("breaker");
    block.job = fact("job_no");
    block.time_used = time_used(desk);
    fill_slack(desk, block);
    block.revision = fmt::format("r{}", outage.profile().revision);
    sheet.block = std::move(block);
}

void frame_plain(screens::SheetView& sheet)
{
    sheet.product_line = "Isochore";
}

} // namespace isochore::app
