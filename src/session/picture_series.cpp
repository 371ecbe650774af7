#include "drawing/leak_line.h"
#include "drawing/purge_curve.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

/// [[t, y], …] of a fact, the time in `seconds_per` seconds.
std::vector<drawing::Point> points_of(Json const& list, double seconds_per)
{
    std::vector<drawing::Point> points;
    if (!list.is_array())
        return points;
    for (auto const& p : list)
        if (p.is_array() && p.size() >= 2 && p[0].is_number() && p[1].is_number())
            points.push_back({p[0].get<double>() / seconds_per, p[1].get<double>()});
    return points;
}

std::vector<drawing::BandPoint> band_of(Json const& low, Json const& high, double seconds_per)
{
    auto const l = points_of(low, seconds_per), h = points_of(high, seconds_per);
    std::vector<drawing::BandPoint> band;
    for (std::size_t i = 0; i < l.size() && i < h.size(); ++i)
        band.push_back({l[i].x, l[i].y, h[i].y});
    return band;
}

/// The readings of the log behind the step, where no fit exists yet.
std::vector<drawing::Point> raw_readings(PictureQuestion const& q, Dimension dimension, double unit)
{
    std::vector<drawing::Point> points;
    for (auto const& stage : q.context.checklists.stages)
        for (auto const& s : stage.steps) {
            bool const mine = s.id == q.step.id ||
                              (q.step.call && std::find(q.step.call->uses.begin(), q.step.call->uses.end(),
                                                        s.id) != q.step.call->uses.end());
            if (!mine || s.kind != model::StepKind::log)
                continue;
            for (auto const& r : q.context.state.record(s.id).readings)
                if (!r.values.empty())
                    if (auto const a = parse_amount(r.values.front(), dimension, s.id))
                        points.push_back({r.t_s / 60.0, a->si / unit});
        }
    return points;
}

} // namespace

std::optional<drawing::Picture> purge_picture(PictureQuestion const& q)
{
    drawing::PurgeCurve curve;
    curve.readings = points_of(q.fact("points"), 60.0);
    if (curve.readings.empty())
        curve.readings = raw_readings(q, Dimension::fraction, 0.01);
    if (curve.readings.empty())
        return std::nullopt;
    curve.fit = points_of(q.fact("curve"), 60.0);
    curve.band = band_of(q.fact("band_low"), q.fact("band_high"), 60.0);
    if (auto const limit = q.context.profile.amount("gas.purity_limit"))
        curve.limit =
            drawing::Level{limit->si * 100.0, q.words("limit {}", {fmt::format("{:g}", limit->si * 100.0)})};
    Json const plateau = q.fact("plateau");
    if (plateau.is_object() && number_member(plateau, "u") > 0.0)
        curve.plateau = drawing::Level{
            number_member(plateau, "value"),
            q.words("plateau {}", {fmt::format("{:.1f} ± {:.1f} %", number_member(plateau, "value"),
                                               2.0 * number_member(plateau, "u"))})};
    q.say(curve.x_titles);
    q.say(curve.y_titles);
    return drawing::purge_curve(curve, q.space, q.measure);
}

std::optional<drawing::Picture> leak_picture(PictureQuestion const& q)
{
    drawing::LeakLine line;
    for (auto const& p : points_of(q.fact("points"), 60.0))
        line.readings.push_back({p.x, p.y, 0.0});
    line.fit = points_of(q.fact("curve"), 60.0);
    line.band = band_of(q.fact("band_low"), q.fact("band_high"), 60.0);
    line.x_titles = {q.words("minutes since the valve was shut"), q.words("minutes")};
    if (line.readings.empty()) {
        for (auto const& p : raw_readings(q, Dimension::pressure, 1e5))
            line.readings.push_back({p.x, p.y, 0.0});
        line.y_titles = {q.words("pressure, bar as read"), "bar"};
    } else {
        q.say(line.y_titles);
    }
    if (line.readings.empty())
        return std::nullopt;
    if (q.fact("disturbed") == "rising")
        line.result_label = q.words("density rises: no leak figure");
    else if (q.fact("disturbed").is_string())
        line.result_label = q.words("temperature disturbed: no leak figure");
    else if (double const share = q.figure("annual_fraction"); std::isfinite(share))
        line.result_label =
            q.words("{} a year", {fmt::format("{:.2g} ± {:.2g} %", share, q.half_width("annual_fraction"))});
    return drawing::leak_line(line, q.space, q.measure);
}

/// What gathers in a bag: from the background up to what was read in the end, beside what the limit would
/// have given in the same time. All rise in a straight line, since the bag is far from full.
std::optional<drawing::Picture> bag_picture(PictureQuestion const& q)
{
    double const low = q.input("background_ppmv", Dimension::fraction),
                 high = q.input("final_ppmv", Dimension::fraction),
                 duration = q.input("duration", Dimension::time);
    double const loss = q.figure("annual_loss"), limit = q.figure("limit_annual");
    if (!std::isfinite(low) || !std::isfinite(high) || !(duration > 0.0) || !std::isfinite(loss))
        return std::nullopt;
    double const hours = duration / 3600.0, start = low * 1e6, end = high * 1e6;
    drawing::LeakLine line;
    line.readings = {{0.0, start, 0.0}, {hours, end, 0.0}};
    line.fit = {{0.0, start}, {hours, end}};
    if (loss != 0.0) {
        double const ppmv_each = (end - start) / loss, half = q.half_width("annual_loss");
        line.band = {{0.0, start, start},
                     {hours, end - half * std::abs(ppmv_each), end + half * std::abs(ppmv_each)}};
        double const limit_end = start + limit * ppmv_each;
        if (limit > 0.0 && ppmv_each > 0.0) {
            line.limit = {{0.0, start}, {hours, limit_end}};
            line.limit_label = q.words("limit {}", {fmt::format("{:.3g} g/yr", limit * 1e3)});
        }
    }
    line.result_label = fmt::format("{:.3g} ± {:.2g} g/yr", loss * 1e3, q.half_width("annual_loss") * 1e3);
    line.x_titles = {q.words("hours in the bag"), q.words("hours")};
    line.y_titles = {q.words("gas in the bag, ppmv"), "ppmv"};
    return drawing::leak_line(line, q.space, q.measure);
}

std::optional<drawing::Picture> forecast_picture(PictureQuestion const& q)
{
    constexpr double year_s = 365.25 * 86400.0, longest_years = 60.0;
    double const now = q.figure("density"), volume = q.figure("volume"), rate = q.figure("leak_rate");
    if (!std::isfinite(now) || !(volume > 0.0) || !std::isfinite(rate))
        return std::nullopt;
    drawing::LeakLine line;
    double lowest = now;
    for (auto const& [name, level_text] : {std::pair{"warn_density", language::said("warn {}")},
                                           {"lockout_density", language::said("lockout {}")}})
        if (double const level = q.figure(name); std::isfinite(level)) {
            line.levels.push_back({level, q.words(level_text, {fmt::format("{:.1f}", level)})});
            lowest = std::min(lowest, level);
        }
    double const a_year = rate * year_s / volume; // kg/m3 lost in a year
    double const u95 = 2.0 * number_member(q.fact("leak_rate"), "u") * year_s / volume;
    double const end = a_year > 0.0 ? std::min(1.05 * (now - lowest) / a_year, longest_years) : longest_years;
    if (!(end > 0.0))
        return std::nullopt;
    constexpr int steps = 24;
    for (int i = 0; i <= steps; ++i) {
        double const t = end * i / steps;
        line.fit.push_back({t, now - a_year * t});
        if (u95 > 0.0)
            line.band.push_back(
                {t, std::max(now - (a_year + u95) * t, 0.8 * lowest), now - std::max(a_year - u95, 0.0) * t});
    }
    line.readings.push_back({0.0, now, 2.0 * number_member(q.fact("density"), "u")});
    line.x_titles = {q.words("years from this fill"), q.words("years")};
    q.say(line.y_titles);
    if (auto const by = figure_text(q.result, "fill_by"))
        line.result_label = q.words("fill by {}", {*by});
    return drawing::leak_line(line, q.space, q.measure);
}

} // namespace isochore::session
