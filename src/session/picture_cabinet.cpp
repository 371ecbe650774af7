#include "drawing/bolt_load.h"
#include "drawing/cable_runs.h"
#include "drawing/sight_line.h"
#include "quantity/amount.h"
#include "session/display.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

std::string newtons(double n)
{
    return show_short(n, 3) + " N";
}

} // namespace

std::optional<drawing::Picture> bolts_picture(PictureQuestion const& q)
{
    double const tension = q.figure("tension"), shear = q.figure("shear");
    double const tension_limit = q.figure("tension_limit"), shear_limit = q.figure("shear_limit");
    double const used = q.figure("utilisation");
    double const allowed = q.input_or_usual("max_utilisation", Dimension::fraction);
    if (!std::isfinite(tension) || !std::isfinite(shear) || !(tension_limit > 0.0) || !(shear_limit > 0.0) ||
        !(allowed > 0.0))
        return std::nullopt;
    drawing::BoltLoad load;
    load.tension = tension / tension_limit;
    load.shear = shear / shear_limit;
    load.allowed = allowed;
    load.point_label = q.words("{} % in use", {show_short(used * 100.0, 3)});
    load.limit_label = q.words("limit {} %", {show_short(allowed * 100.0, 3)});
    Json const inputs = q.known_inputs();
    double const standoff = length_of(inputs, "standoff", 0.0), spacing = length_of(inputs, "spacing", 0.0);
    if (standoff > 0.0 && spacing > 0.0)
        load.place = drawing::BoltPlace{standoff * 1e3, spacing * 1e3,
                                        text_member(inputs, "mass") + " × " + text_member(inputs, "shock"),
                                        newtons(tension), newtons(shear)};
    load.verdict = q.check_mark("strength");
    load.foot = q.checks({"ties_allowed", "grip", "joint_stays_shut"});
    // A low picture has no height to spare for what holds: the sheet says that beside it.
    constexpr double room_for_all = 60.0; // mm
    if (q.space.height_mm < room_for_all)
        std::erase_if(load.foot, [](auto const& check) { return check.mark == drawing::Mark::pass; });
    q.say(load.x_titles);
    q.say(load.y_titles);
    return drawing::bolt_load(load, q.space, q.measure);
}

std::optional<drawing::Picture> sightline_picture(PictureQuestion const& q)
{
    Json const inputs = q.known_inputs();
    double const none = std::nan("");
    drawing::SightLine sight;
    sight.window_mm = length_of(inputs, "window", none) * 1e3;
    sight.display_mm = length_of(inputs, "display", none) * 1e3;
    sight.offset_mm = length_of(inputs, "offset", 0.0) * 1e3;
    sight.gap_mm = length_of(inputs, "gap", none) * 1e3;
    sight.eye_mm = length_of(inputs, "eye_distance", none) * 1e3;
    double const visible = q.figure("visible");
    if (!std::isfinite(visible) || !std::isfinite(sight.window_mm))
        return std::nullopt;
    for (auto const& text : q.checks({"visible"})) {
        sight.result = text.text;
        sight.verdict = text.mark;
    }
    sight.note = q.words("display {} mm, {} mm off centre",
                         {show_short(sight.display_mm, 4), show_short(std::abs(sight.offset_mm), 4)});
    sight.window = q.words("window, {} mm wide", {show_short(sight.window_mm, 4)});
    q.say({&sight.eye, &sight.display, &sight.hidden});
    return drawing::sight_line(sight, q.space, q.measure);
}

std::optional<drawing::Picture> cables_picture(PictureQuestion const& q)
{
    Json const done = q.fact("runs"), asked = member(q.known_inputs(), "runs");
    if (!done.is_array() || done.empty() || !asked.is_array())
        return std::nullopt;
    double const slack = q.input_or_usual("slack", Dimension::fraction);
    double const tail = q.input_or_usual("tail", Dimension::length);
    drawing::CableRuns cables;
    for (std::size_t i = 0; i < done.size() && i < asked.size(); ++i) {
        std::string const name = text_member(done[i], "name");
        double const cut = number_member(member(done[i], "cut_length"), "value");
        double const count = number_member(done[i], "conductors", 1.0);
        drawing::CableRun run;
        run.name = q.words(name);
        run.route_m = length_of(asked[i], "route", 0.0);
        run.slack_m = run.route_m * slack;
        run.tail_m = tail;
        run.total = fmt::format("{:g} × {:.2f} m = {:.1f} m", count, cut, cut * count);
        if (double const reach = length_of(asked[i], "reach", -1.0); reach >= 0.0) {
            run.reach_m = reach;
            run.mark = q.check_mark(name.c_str());
        }
        cables.runs.push_back(std::move(run));
    }
    if (double const total = q.figure("total_length"); std::isfinite(total))
        cables.foot.push_back(drawing::conclusion(
            q.words("in all {} m of wire", {fmt::format("{:.1f}", total)}), drawing::Mark::none));
    q.say({&cables.route, &cables.slack, &cables.tails, &cables.reach});
    q.say(cables.x_titles);
    return drawing::cable_runs(cables, q.space, q.measure);
}

} // namespace isochore::session
