#include "calc/leak_decay.h"
#include "calc/gas_inputs.h"
#include "calc/leak_limit.h"
#include "calc/leak_weather.h"
#include "calc/series.h"
#include "calc/uncertain.h"
#include "gas/leak.h"
#include "gas/state.h"
#include "uncertainty/interval.h"
#include "uncertainty/line_fit.h"
#include "uncertainty/student.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;
using uncertainty::LineFit;

constexpr int curve_points = 25;

/// What a decay test rests on, and its line.
struct Decay {
    gas::Species species = gas::Species::sf6;
    std::vector<TimedReading> series; // pressure, temperature
    std::vector<double> times, densities;
    uncertainty::Input volume;
    double u_density =
        0.0; // of one reading, by the instruments, as far as it changes from reading to reading
    double gas_mass_kg = 0.0;
    LineFit line;
    double leak = 0.0, u_leak = 0.0, freedom = 0.0;
    [[nodiscard]] double elapsed() const { return times.back() - times.front(); }
    [[nodiscard]] double expanded() const { return uncertainty::coverage_95(freedom) * u_leak; }
    [[nodiscard]] double spacing() const { return elapsed() / static_cast<double>(times.size() - 1); }
};

/// True density of every reading: what is left of a pressure series once temperature is taken out.
void reduce(Inputs& in, Decay& test)
{
    for (std::size_t i = 0; i < test.series.size() && !in.error(); ++i) {
        auto const rho = gas::density_kg_m3(test.species, test.series[i].values[1], test.series[i].values[0]);
        if (!rho)
            in.refuse(rho.error().code, fmt::format("series[{}].{}", i, rho.error().where),
                      rho.error().detail);
        else
            test.densities.push_back(*rho);
    }
}

void read_instruments(Inputs& in, Decay& test, double volume)
{
    Uncertainties u(in);
    auto const& middle = test.series[test.series.size() / 2].values;
    auto const p = u.read("pressure", middle[0], Dimension::pressure_difference);
    auto const t = u.read("temperature", middle[1], Dimension::temperature_difference);
    test.volume = u.read("volume", volume, Dimension::volume);
    u.finish();
    if (in.error())
        return;
    auto const density = uncertainty::first_order(
        [&](std::span<double const> v) { return gas::density_kg_m3(test.species, v[1], v[0]); },
        std::array{p, t});
    test.u_density = density ? density->u : 0.0;
    in.note("the uncertainties of pressure and temperature are taken as what may change from reading to "
            "reading; an "
            "error that stays the same cancels in the slope");
}

bool all_same(std::vector<double> const& values)
{
    return std::all_of(values.begin(), values.end(), [&](double v) { return v == values.front(); });
}

void fit(Inputs& in, Decay& test)
{
    if (all_same(column_of(test.series, 0)) && all_same(column_of(test.series, 1)) && test.u_density == 0.0) {
        in.refuse(Code::no_solution, "series",
                  "all readings are the same: the gauge may be stuck, shut off or too coarse; give its "
                  "resolution under "
                  "uncertainties, or use a finer gauge");
        return;
    }
    auto const line = uncertainty::fit_line(test.times, test.densities, test.u_density);
    if (!line) {
        in.refuse(line.error().code, "series", line.error().detail);
        return;
    }
    test.line = *line;
    test.leak = -test.volume.value * line->slope;
    double const parts[] = {test.volume.value * line->u_slope, std::fabs(line->slope) * test.volume.u};
    double const freedoms[] = {line->degrees_of_freedom, test.volume.degrees_of_freedom};
    test.u_leak = std::hypot(parts[0], parts[1]);
    test.freedom = uncertainty::welch_satterthwaite(parts, freedoms);
}

/// 5 % false alarms and 5 % misses (ISO 11929-1, decision threshold and detection limit).
double detection_limit(Decay const& test)
{
    double const t = uncertainty::student_quantile(uncertainty::level, test.line.degrees_of_freedom);
    return 2.0 * t * test.volume.value * test.line.u_slope;
}

void add_curve(Answer& answer, Decay const& test)
{
    Json curve = Json::array(), low = Json::array(), high = Json::array(), points = Json::array();
    for (int i = 0; i < curve_points; ++i) {
        double const t = test.times.front() + test.elapsed() * i / (curve_points - 1);
        double const y = test.line.at(t), band = test.line.band_95(t);
        curve.push_back({t, y});
        low.push_back({t, y - band});
        high.push_back({t, y + band});
    }
    for (std::size_t i = 0; i < test.times.size(); ++i)
        points.push_back({test.times[i], test.densities[i]});
    answer.facts["curve"] = std::move(curve);
    answer.facts["band_low"] = std::move(low);
    answer.facts["band_high"] = std::move(high);
    answer.facts["points"] = std::move(points);
    answer.facts["curve_unit"] = "kg/m3";
}

std::string duration_text(double seconds)
{
    if (seconds < 2.0 * 3600.0)
        return fmt::format("{:.0f} min", seconds / 60.0);
    if (seconds < 3.0 * 86400.0)
        return fmt::format("{:.1f} h", seconds / 3600.0);
    return fmt::format("{:.0f} days", seconds / 86400.0);
}

/// Time to hold until the answer is clear. A leak that is seen must be told from the limit. One that is not
/// seen is taken as none, and a tight part passes 19 times in 20 once U is 1.96/(1.96 + 1.645) of the limit;
/// its value so far is chance and says nothing about the time.
double hold_needed(Decay const& test, std::optional<LeakLimit> const& limit, bool decided)
{
    if (!limit || decided)
        return test.elapsed();
    bool const seen = test.leak > test.expanded();
    double const wanted =
        seen ? std::fmax(std::fabs(limit->kg_s - test.leak), 0.25 * limit->kg_s) : 0.54 * limit->kg_s;
    double const hold = uncertainty::hold_for(wanted / test.volume.value, test.line.scatter, test.spacing());
    return std::fmax(hold, test.elapsed());
}

void check_limit(Inputs& in, Answer& answer, Decay const& test, std::optional<LeakLimit> const& limit,
                 uncertainty::Rule rule, double window)
{
    double const expanded = test.expanded();
    bool const rising = test.leak + expanded < 0.0;
    if (rising)
        answer.checks.push_back(
            {"rising", Verdict::undecided,
             fmt::format("density rises by {} ± {}: gas does not leak in, so this is no leak figure",
                         mass_a_year(-test.leak), mass_a_year(expanded)),
             "the gas was still warming behind the thermometer, or a valve lets gas in: wait for "
             "equal temperatures, check the valves and start again",
             ""});
    double needed = test.elapsed();
    if (limit) {
        auto const d = uncertainty::decide(test.leak, test.leak - expanded, test.leak + expanded, limit->kg_s,
                                           uncertainty::Side::at_most, rule);
        // A series that rises beyond its own scatter proves something wrong, not tightness.
        Verdict const verdict = rising ? Verdict::undecided : verdict_of(d.outcome);
        needed = hold_needed(test, limit, verdict != Verdict::undecided);
        Check check{"leak",
                    verdict,
                    fmt::format("{} ± {} against {} ({})", mass_a_year(test.leak), mass_a_year(expanded),
                                mass_a_year(limit->kg_s), limit->typed),
                    {},
                    uncertainty::rule_name(rule)};
        if (verdict == Verdict::fail)
            check.remedy =
                "find it with a detector or soap film; isolate, recover, re-make the joint, test again";
        if (verdict == Verdict::undecided && !rising) {
            if (std::isfinite(needed) && needed <= window)
                check.remedy = fmt::format("hold {} more, with readings as often and as good as so far",
                                           duration_text(needed - test.elapsed()));
            else
                check.remedy = fmt::format("this volume of {:.4g} l would have to be held {}: it cannot be "
                                           "proved within the outage. Test the "
                                           "isolated pipe run alone, collect the leak in a bag "
                                           "(leak.accumulation), or probe each joint",
                                           test.volume.value * 1e3,
                                           std::isfinite(needed) ? "about " + duration_text(needed)
                                                                 : std::string("longer than any outage"));
        }
        answer.checks.push_back(std::move(check));
    }
    if (std::isfinite(needed)) {
        answer.add("hold_needed", needed, "s");
        answer.add("hold_more", needed - test.elapsed(), "s");
    } else {
        in.note("no hold is long enough to decide at this scatter and spacing");
    }
}

void add_expected(Answer& answer, Decay const& test)
{
    double const next = test.times.back() + test.spacing();
    double const temperature = test.series.back().values[1];
    auto const p = gas::pressure_pa(test.species, temperature, test.line.at(next));
    auto const at = gas::GasAt::at(test.species, temperature);
    if (!p || !at)
        return;
    double const k = uncertainty::coverage_95(test.line.degrees_of_freedom);
    double const half =
        std::hypot(test.line.band_95(next), k * test.line.scatter) * at->slope(test.line.at(next));
    answer.expected.push_back({"pressure", *p, "Pa", half / k, *p - half, *p + half});
}

} // namespace

Result<Answer> leak_decay(Inputs& in)
{
    Decay test;
    test.species = read_gas(in);
    double const volume = in.quantity("volume", Dimension::volume);
    auto const nameplate = in.optional_quantity("nameplate_mass", Dimension::mass);
    double const window = in.quantity_or("window", Dimension::time, 7200.0);
    auto const rule = read_rule(in);
    double const air_pa = in.barometer();
    test.series =
        read_series(in, {{"pressure", Dimension::pressure}, {"temperature", Dimension::temperature}}, 2);
    if (!in.error() && !(volume > 0.0))
        in.refuse(Code::out_of_range, "volume", "must be above zero");
    refuse_pressure_slip(in, test.series, 0, air_pa);
    refuse_temperature_slip(in, test.series, 1);
    if (in.error())
        return tl::unexpected(*in.error());
    test.times = times_of(test.series);
    reduce(in, test);
    if (!in.error())
        read_instruments(in, test, volume);
    if (!in.error()) {
        test.gas_mass_kg = nameplate.value_or(volume * test.densities.front());
        fit(in, test);
    }
    auto const limit =
        in.error() ? std::nullopt : read_leak_limit(in, "limit", test.species, test.gas_mass_kg);
    if (in.error())
        return tl::unexpected(*in.error());

    Answer answer;
    add_leak_figures(answer, test.species, test.leak, test.u_leak, test.expanded(), test.gas_mass_kg);
    answer.add("detection_limit", detection_limit(test), "kg/s");
    answer.add("density_start", test.line.at(test.times.front()), "kg/m3");
    answer.add("temperature_change", test.series.back().values[1] - test.series.front().values[1], "K");
    check_limit(in, answer, test, limit, rule, window);
    check_temperature_step(answer, test.series);
    if (test.line.from_instrument)
        answer.notes.push_back(
            "the readings agree better than the instruments claim, so the instruments' uncertainty "
            "sets the band");
    answer.working.push_back(
        {"rho_i = rho(T_i, p_i); straight line by least squares; leak = -V d(rho)/dt",
         fmt::format("{} readings over {:.0f} s: slope {:.4e} ± {:.2e} kg/(m3 s), scatter {:.3e} "
                     "kg/m3, V = {:.6g} m3",
                     test.line.readings, test.elapsed(), test.line.slope, test.line.u_slope,
                     test.line.scatter, volume),
         std::string(gas::equation(test.species).data().citation)});
    answer.working.push_back(
        {"detection limit = 2 t(0.95) V u(slope)",
         fmt::format("{:.3e} kg/s = {}", detection_limit(test), mass_a_year(detection_limit(test))),
         "ISO 11929-1, 5 % false alarm and 5 % miss"});
    double const from_line = volume * test.line.u_slope,
                 from_volume = std::fabs(test.line.slope) * test.volume.u;
    double const variance = test.u_leak * test.u_leak;
    if (variance > 0.0) {
        answer.budget.push_back({"scatter of the readings", from_line, from_line * from_line / variance,
                                 test.line.from_instrument ? "instruments" : "residuals of the line"});
        answer.budget.push_back(
            {"volume", from_volume, from_volume * from_volume / variance, test.volume.source});
    }
    add_curve(answer, test);
    add_expected(answer, test);
    return answer;
}

} // namespace isochore::calc
