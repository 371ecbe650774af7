#include "calc/purge_plateau.h"
#include "calc/series.h"
#include "calc/uncertain.h"
#include "uncertainty/approach_fit.h"
#include "uncertainty/interval.h"
#include "uncertainty/line_fit.h"
#include "uncertainty/student.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;
using uncertainty::ApproachFit;

constexpr int curve_points = 41;
constexpr std::size_t last_readings = 4;

struct Purge {
    std::vector<double> times, purity;
    double resolution = 0.0;
    uncertainty::Input analyser; // what is the same in every reading
    ApproachFit fit;
    double tail_slope = 0.0, tail_slope_u = 0.0;
    double reachable = 0.0; // what the analyser can tell: differences below it do not show
    [[nodiscard]] double u_plateau() const { return std::hypot(fit.u_plateau, analyser.u); }
    [[nodiscard]] double expanded() const
    {
        double const parts[] = {fit.u_plateau, analyser.u};
        double const freedoms[] = {fit.degrees_of_freedom, analyser.degrees_of_freedom};
        return uncertainty::coverage_95(uncertainty::welch_satterthwaite(parts, freedoms)) * u_plateau();
    }
};

void refuse_impossible(Inputs& in, std::vector<TimedReading> const& series)
{
    for (std::size_t i = 0; i < series.size() && !in.error(); ++i) {
        double const x = series[i].values[0];
        if (x > 1.0)
            in.refuse(Code::out_of_range, fmt::format("series[{}]", i),
                      fmt::format("{:.4g} % is above 100 %: a share of the gas cannot be; check the "
                                  "analyser's zero and span",
                                  x * 100.0));
        if (x < 0.0)
            in.refuse(Code::out_of_range, fmt::format("series[{}]", i), "a purity below 0 % cannot be");
    }
}

/// A purity between two that are ten times as high has its point in the wrong place.
void refuse_tenth(Inputs& in, std::vector<TimedReading> const& series)
{
    constexpr double closeness = 0.3;
    for (std::size_t i = 1; i + 1 < series.size() && !in.error(); ++i) {
        double const before = series[i - 1].values[0], x = series[i].values[0],
                     after = series[i + 1].values[0];
        double const tenth = 0.05 * (before + after);
        if (std::fabs(x - tenth) < closeness * tenth && std::fmin(before, after) > 5.0 * x)
            in.refuse(Code::invalid_input, fmt::format("series[{}]", i),
                      fmt::format("{:.4g} % stands between {:.4g} % and {:.4g} %: ten times too small, a "
                                  "misplaced point",
                                  x * 100.0, before * 100.0, after * 100.0));
    }
}

/// Slope of the last readings: a plateau has none that could be told from zero.
void look_at_tail(Purge& purge)
{
    std::size_t const n = std::min(last_readings, purge.times.size());
    std::span<double const> const t(purge.times.data() + purge.times.size() - n, n);
    std::span<double const> const y(purge.purity.data() + purge.purity.size() - n, n);
    auto const line = uncertainty::fit_line(t, y, purge.resolution / std::sqrt(12.0));
    if (!line)
        return;
    purge.tail_slope = line->slope;
    purge.tail_slope_u = line->u_slope;
}

/// On the plateau when what is still to come, as far up as 95 % allows, is below what the analyser can tell.
bool on_plateau(Purge const& purge)
{
    auto const& fit = purge.fit;
    if (fit.flat)
        return true;
    double const k = uncertainty::student_quantile(uncertainty::level, fit.degrees_of_freedom);
    return std::fabs(fit.remaining(fit.t_last)) + k * fit.u_remaining(fit.t_last) <= purge.reachable;
}

double time_to_plateau(Purge const& purge)
{
    auto const& fit = purge.fit;
    if (fit.flat)
        return 0.0;
    // Upper 95 % of what remains falls with the same time constant, to first order.
    double const k = uncertainty::student_quantile(uncertainty::level, fit.degrees_of_freedom);
    double const left = std::fabs(fit.remaining(fit.t_last)) + k * fit.u_remaining(fit.t_last);
    return left > purge.reachable ? fit.time_constant * std::log(left / purge.reachable) : 0.0;
}

void add_curve(Answer& answer, Purge const& purge, double wait)
{
    Json curve = Json::array(), low = Json::array(), high = Json::array(), points = Json::array();
    double const first = purge.fit.t_first;
    double const end = purge.fit.t_last + std::fmin(wait, purge.fit.t_last - first);
    for (int i = 0; i < curve_points; ++i) {
        double const t = first + (end - first) * i / (curve_points - 1);
        double const y = purge.fit.at(t) * 100.0, band = purge.fit.band_95(t) * 100.0;
        curve.push_back({t, y});
        low.push_back({t, y - band});
        high.push_back({t, y + band});
    }
    for (std::size_t i = 0; i < purge.times.size(); ++i)
        points.push_back({purge.times[i], purge.purity[i] * 100.0});
    answer.facts["curve"] = std::move(curve);
    answer.facts["band_low"] = std::move(low);
    answer.facts["band_high"] = std::move(high);
    answer.facts["points"] = std::move(points);
    answer.facts["curve_unit"] = "%";
}

void check_plateau(Answer& answer, Purge const& purge, bool reached, double wait)
{
    auto const& fit = purge.fit;
    bool const falling = purge.tail_slope + 2.0 * purge.tail_slope_u < 0.0;
    if (falling)
        answer.checks.push_back({"drift_down", Verdict::undecided,
                                 fmt::format("the last {} readings fall by {:.3g} % in an hour",
                                             last_readings, -purge.tail_slope * 3600.0 * 100.0),
                                 "air may come in at a hose or joint, or the analyser drifts: check both",
                                 ""});
    if (!fit.flat && fit.rise < 0.0 && !falling)
        answer.checks.push_back({"falling", Verdict::undecided, "purity falls from the first reading on",
                                 "check the direction of flow and the hose at the analyser", ""});
    if (std::all_of(purge.purity.begin(), purge.purity.end(),
                    [&](double x) { return x == purge.purity.front(); }))
        answer.checks.push_back(
            {"constant", Verdict::undecided,
             fmt::format("all {} readings are the same: the analyser may not be sampling the gas",
                         purge.purity.size()),
             "hold the analyser in air until it moves, then in the gas again", ""});
    Check check{"plateau", reached && !falling ? Verdict::pass : Verdict::undecided, {}, {}, ""};
    if (reached)
        check.text = fmt::format("what may still come is below {:.3g} %, which the analyser cannot tell",
                                 purge.reachable * 100.0);
    else
        check.text = fmt::format("still rising: now {:.2f} %, on the way to {:.2f} ± {:.2f} %",
                                 fit.at(fit.t_last) * 100.0, fit.plateau * 100.0, purge.expanded() * 100.0);
    if (!reached)
        check.remedy = fmt::format("about {:.0f} min more", std::ceil(wait / 60.0));
    answer.checks.push_back(std::move(check));
}

void check_limit(Answer& answer, Purge const& purge, double limit, uncertainty::Rule rule, bool reached)
{
    double const value = purge.fit.plateau, expanded = purge.expanded();
    auto const d = uncertainty::decide(value, value - expanded, value + expanded, limit,
                                       uncertainty::Side::at_least, rule);
    Check check{"purity",
                verdict_of(d.outcome),
                fmt::format("plateau {:.2f} ± {:.2f} % against at least {:.2f} %", value * 100.0,
                            expanded * 100.0, limit * 100.0),
                {},
                uncertainty::rule_name(rule)};
    if (check.verdict == Verdict::pass && !reached)
        check.verdict = Verdict::undecided; // a plateau foreseen is not a plateau seen
    if (check.verdict == Verdict::fail)
        check.remedy =
            "a ceiling below the limit is not cured by time: look for a dead leg, a leaking hose or poor gas";
    if (check.verdict == Verdict::undecided)
        check.remedy = reached ? fmt::format("an analyser known to within {:.2g} % would decide",
                                             d.expanded_needed * 100.0)
                               : "go on until the plateau is reached";
    answer.checks.push_back(std::move(check));
}

} // namespace

Result<Answer> purge_plateau(Inputs& in)
{
    auto const series = read_series(in, {{"purity", Dimension::fraction}}, 4);
    Purge purge;
    purge.resolution = in.quantity_or("resolution", Dimension::fraction, 0.0);
    auto const limit = in.optional_quantity("limit", Dimension::fraction);
    auto const rule = read_rule(in);
    refuse_impossible(in, series);
    refuse_tenth(in, series);
    if (!in.error() && (purge.resolution < 0.0 || purge.resolution > 0.1))
        in.refuse(Code::out_of_range, "resolution",
                  "is the smallest step the analyser shows, between 0 % and 10 %");
    if (!in.error() && limit && !(*limit > 0.0 && *limit <= 1.0))
        in.refuse(Code::out_of_range, "limit", "lies between 0 % and 100 %");
    Uncertainties u(in);
    purge.analyser = u.read("purity", 0.0, Dimension::fraction);
    u.finish();
    if (in.error())
        return tl::unexpected(*in.error());
    purge.times = times_of(series);
    purge.purity = column_of(series, 0);
    auto const fit = uncertainty::fit_approach(purge.times, purge.purity, purge.resolution / std::sqrt(12.0));
    if (!fit) {
        in.refuse(fit.error().code, "series", fit.error().detail);
        return tl::unexpected(*in.error());
    }
    purge.fit = *fit;
    purge.reachable = std::fmax(purge.resolution, 2.0 * fit->scatter);
    look_at_tail(purge);
    bool const reached = on_plateau(purge);
    double const wait = reached ? 0.0 : time_to_plateau(purge);

    Answer answer;
    answer.results.push_back({"plateau", fit->plateau * 100.0, "%", purge.u_plateau() * 100.0,
                              (fit->plateau - purge.expanded()) * 100.0,
                              (fit->plateau + purge.expanded()) * 100.0});
    if (!fit->flat)
        answer.add("time_constant", fit->time_constant, "s", fit->u_time_constant);
    answer.add("time_to_plateau", wait, "s");
    answer.add("scatter", fit->scatter * 100.0, "%");
    answer.facts["on_plateau"] = reached;
    // For people: no time is no time to wait, not a time of nothing.
    answer.facts["plateau_reached"] = reached       ? "on the plateau"
                                      : wait < 90.0 ? fmt::format("in about {:.0f} s", wait)
                                                    : fmt::format("in about {:.0f} min", wait / 60.0);
    answer.facts["outliers"] = fit->outliers;
    check_plateau(answer, purge, reached, wait);
    if (limit)
        check_limit(answer, purge, *limit, rule, reached);
    if (fit->plateau > 1.0)
        answer.notes.push_back(
            "the curve runs above 100 %, which cannot be: it is not yet bent enough to foresee");
    answer.working.push_back(
        {"x = plateau - rise exp(-(t - t0)/tau), robust least squares",
         fmt::format("plateau {:.4f} %, rise {:.4f} %, tau {:.1f} s, {} readings, {} outlying",
                     fit->plateau * 100.0, fit->rise * 100.0, fit->flat ? 0.0 : fit->time_constant,
                     fit->readings, fit->outliers),
         "Tukey's biweight; JCGM 100 for the uncertainty"});
    double const variance = purge.u_plateau() * purge.u_plateau();
    if (variance > 0.0) {
        answer.budget.push_back({"scatter and fit", fit->u_plateau * 100.0,
                                 fit->u_plateau * fit->u_plateau / variance, "residuals of the curve"});
        answer.budget.push_back({"analyser", purge.analyser.u * 100.0,
                                 purge.analyser.u * purge.analyser.u / variance, purge.analyser.source});
    }
    double const next = fit->t_last + (fit->t_last - fit->t_first) / (fit->readings - 1);
    double const half =
        std::hypot(fit->band_95(next), uncertainty::coverage_95(fit->degrees_of_freedom) * fit->scatter) *
        100.0;
    answer.expected.push_back({"purity", fit->at(next) * 100.0, "%", half / 2.0, fit->at(next) * 100.0 - half,
                               fit->at(next) * 100.0 + half});
    add_curve(answer, purge, wait);
    return answer;
}

} // namespace isochore::calc
