#include "calc/leak_decay.h"
#include "calc/gas_inputs.h"
#include "calc/leak_disturbed.h"
#include "calc/leak_hold.h"
#include "calc/leak_limit.h"
#include "calc/series.h"
#include "calc/uncertain.h"
#include "calc/usual.h"
#include "gas/leak.h"
#include "gas/state.h"
#include "uncertainty/interval.h"
#include "uncertainty/line_fit.h"
#include "uncertainty/student.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace isochore::calc {
namespace {

using Code = Error::Code;
using uncertainty::LineFit;

constexpr char const* here = "leak.decay";
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
    Settling settling;
    std::vector<Disturbance> disturbed; ///< where there is one, the slope is no leak figure
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
    test.leak = 0.0 - test.volume.value * line->slope; // no negative zero where nothing moved
    double const parts[] = {test.volume.value * line->u_slope, std::fabs(line->slope) * test.volume.u};
    double const freedoms[] = {line->degrees_of_freedom, test.volume.degrees_of_freedom};
    test.u_leak = std::hypot(parts[0], parts[1]);
    test.freedom = uncertainty::welch_satterthwaite(parts, freedoms);
}

/// 5 % false alarms and 5 % misses (ISO 11929-1, decision threshold and detection limit).
double detection_limit(Decay const& test, double u_slope, double degrees_of_freedom)
{
    double const t = uncertainty::student_quantile(uncertainty::level, degrees_of_freedom);
    return 2.0 * t * test.volume.value * u_slope;
}

double detection_limit(Decay const& test)
{
    return detection_limit(test, test.line.u_slope, test.line.degrees_of_freedom);
}

/// What the instruments alone would let be seen, had nothing else scattered.
double detection_limit_of_instruments(Decay const& test)
{
    return test.u_density > 0.0 ? detection_limit(test, test.u_density / std::sqrt(test.line.sum_tt),
                                                  std::numeric_limits<double>::infinity())
                                : detection_limit(test);
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

/// Whether temperature decides and not the leak: had the gas followed its thermometer as far behind as pipes
/// let it, the verdict would be another one beyond the scatter, or the leak another by more than the limit
/// and all that the instruments see.
std::optional<Disturbance> temperature_drift(Decay const& test, LeakLimit const& limit,
                                             uncertainty::Rule rule)
{
    auto const followed = followed_temperatures(test.series, test.settling.time_constant_s);
    std::vector<double> densities;
    double most = 0.0;
    for (std::size_t i = 0; i < test.series.size(); ++i) {
        auto const& values = test.series[i].values;
        auto const rho = gas::density_kg_m3(test.species, followed[i], values[0]);
        if (!rho)
            return std::nullopt;
        densities.push_back(*rho);
        most = std::fmax(most, std::fabs(values[1] - followed[i]));
    }
    auto const line = uncertainty::fit_line(test.times, densities, test.u_density);
    if (!line)
        return std::nullopt;
    auto const outcome = [&](double leak) {
        return uncertainty::decide(leak, leak - test.expanded(), leak + test.expanded(), limit.kg_s,
                                   uncertainty::Side::at_most, rule)
            .outcome;
    };
    double const leak = -test.volume.value * line->slope;
    double const moved = std::fabs(leak - test.leak);
    bool const turns = outcome(test.leak) != uncertainty::Outcome::undecided &&
                       outcome(test.leak) != outcome(leak) && moved > test.expanded();
    if (!turns && !(moved > limit.kg_s && moved > detection_limit_of_instruments(test)))
        return std::nullopt;
    return Disturbance{
        "temperature_drift",
        fmt::format(
            "the pipe changes by {:.2g} K during the hold: with gas {:.2g} K behind, {} would read {}",
            test.series.back().values[1] - test.series.front().values[1], most, mass_a_year(test.leak),
            mass_a_year(leak)),
        most};
}

void look_for_disturbance(Decay& test, std::optional<LeakLimit> const& limit, uncertainty::Rule rule)
{
    if (auto step = temperature_step(test.series))
        test.disturbed.push_back(std::move(*step));
    if (test.leak + test.expanded() < 0.0) {
        double const held = test.elapsed() / test.volume.value;
        test.disturbed.push_back(
            rising_density(-test.leak * held, test.expanded() * held, test.elapsed(), test.settling));
    }
    if (limit && test.disturbed.empty())
        if (auto drift = temperature_drift(test, *limit, rule))
            test.disturbed.push_back(std::move(*drift));
}

void check_disturbance(Answer& answer, Decay const& test, std::optional<LeakLimit> const& limit)
{
    if (test.disturbed.empty())
        return;
    double const feigned = (limit ? limit->kg_s : detection_limit(test)) * test.elapsed() / test.volume.value;
    for (auto const& seen : test.disturbed)
        answer.checks.push_back(disturbed_check(seen, feigned, test.settling));
    answer.facts["disturbed"] = test.disturbed.back().name;
}

void check_limit(Inputs& in, Answer& answer, Decay const& test, std::optional<LeakLimit> const& limit,
                 uncertainty::Rule rule, double window)
{
    double const expanded = test.expanded();
    bool const disturbed = !test.disturbed.empty();
    double needed = test.elapsed();
    if (limit) {
        auto const d = uncertainty::decide(test.leak, test.leak - expanded, test.leak + expanded, limit->kg_s,
                                           uncertainty::Side::at_most, rule);
        Verdict const verdict = disturbed ? Verdict::undecided : verdict_of(d.outcome);
        if (verdict == Verdict::undecided)
            needed = hold_needed({test.leak, test.expanded(), test.volume.value, test.line.scatter,
                                  test.spacing(), test.elapsed()},
                                 limit->kg_s);
        Check check{"leak",
                    verdict,
                    disturbed ? fmt::format("nothing can be said against {} ({}) from a disturbed series",
                                            mass_a_year(limit->kg_s), limit->typed)
                              : fmt::format("{} ± {} against {} ({})", mass_a_year(test.leak),
                                            mass_a_year(expanded), mass_a_year(limit->kg_s), limit->typed),
                    {},
                    uncertainty::rule_name(rule)};
        if (verdict == Verdict::fail)
            check.remedy =
                "find it with a detector or soap film; isolate, recover, re-make the joint, test again";
        if (verdict == Verdict::undecided && !disturbed) {
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
    if (disturbed) // holding on does not mend a disturbed series
        return;
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
    double const time_constant = given_or_usual(in, here, "settling", Dimension::time);
    if (!in.error() && !(time_constant > 0.0))
        in.refuse(Code::out_of_range, "settling", "must be above zero");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const& middle = test.series[test.series.size() / 2].values;
    test.settling = settling(test.species, middle[1], middle[0], time_constant);
    look_for_disturbance(test, limit, rule);

    Answer answer;
    if (test.disturbed.empty())
        add_leak_figures(answer, test.species, test.leak, test.u_leak, test.expanded(), test.gas_mass_kg);
    else
        answer.add("density_rise", test.line.slope * test.elapsed(), "kg/m3",
                   test.line.u_slope * test.elapsed());
    answer.add("detection_limit", detection_limit(test), "kg/s");
    answer.add("density_start", test.line.at(test.times.front()), "kg/m3");
    answer.add("temperature_change", test.series.back().values[1] - test.series.front().values[1], "K");
    check_disturbance(answer, test, limit);
    check_limit(in, answer, test, limit, rule, window);
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
