#include "calc/fill_checks.h"
#include "calc/uncertain.h"
#include "gas/saturation.h"
#include "gas/state.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using uncertainty::decide;
using uncertainty::Side;

std::string rule_of(FillLimits const& limits)
{
    return uncertainty::rule_name(limits.rule);
}

void check_overfill(Answer& answer, FillState const& s, FillLimits const& limits)
{
    auto const& now = s.density_now;
    double const expanded = now.expanded();
    double const most = s.target_density_kg_m3 * (1.0 + limits.fill_tolerance.value_or(0.0));
    auto const decision =
        decide(now.value, now.value - expanded, now.value + expanded, most, Side::at_most, limits.rule);
    Check check{"over_fill", verdict_of(decision.outcome), {}, {}, rule_of(limits)};
    check.text = fmt::format("density now {:.3f} ± {:.3f} kg/m3 against the filling density {:.3f} kg/m3",
                             now.value, expanded, s.target_density_kg_m3);
    if (limits.fill_tolerance)
        check.text =
            fmt::format("density now {:.3f} ± {:.3f} kg/m3 against the filling density {:.3f} kg/m3 and at "
                        "most {:.3f} kg/m3",
                        now.value, expanded, s.target_density_kg_m3, most);
    if (check.verdict == Verdict::fail)
        check.remedy =
            fmt::format("already over the filling density: recover {:.3f} kg, add nothing", -s.mass.value);
    if (check.verdict == Verdict::undecided && !limits.fill_tolerance &&
        decision.expanded_needed < 0.1 * expanded)
        check.remedy = "at the filling density as far as any gauge in use could tell: add nothing more";
    else if (check.verdict == Verdict::undecided)
        check.remedy = "At the filling density as far as these instruments can tell. " +
                       instrument_needed(now, "pressure", decision.expanded_needed, 1e3, "kPa");
    answer.checks.push_back(std::move(check));
    if (limits.max_pressure_pa) {
        bool const good = s.target_pressure_pa <= *limits.max_pressure_pa;
        answer.checks.push_back(
            {"max_pressure", good ? Verdict::pass : Verdict::fail,
             fmt::format("target {:.2f} kPa abs against the greatest allowed {:.2f} kPa abs",
                         s.target_pressure_pa / 1e3, *limits.max_pressure_pa / 1e3),
             good ? "" : "do not fill to this density at this gas temperature", rule_of(limits)});
    }
}

void check_liquefaction(Answer& answer, FillState const& s, FillLimits const& limits)
{
    auto const dew = gas::saturation_at_density(s.species, s.target_density_kg_m3);
    auto const& data = gas::equation(s.species).data();
    double const turns = dew ? dew->temperature_k : data.least_temperature_k;
    std::string const where =
        dew ? fmt::format("at the filling density the gas begins to liquefy at {:.2f} degC", turns - 273.15)
            : fmt::format(
                  "at the filling density the gas stays gas down to {:.2f} degC, the end of its equation",
                  turns - 273.15);
    if (dew)
        answer.add("liquefaction_temperature", turns, "K");
    if (!limits.lowest_ambient_k) {
        answer.checks.push_back(
            {"liquefaction", Verdict::pass,
             fmt::format("{}; the gas is at {:.2f} degC", where, s.temperature_k - 273.15), "", "simple"});
        return;
    }
    bool const good = *limits.lowest_ambient_k > turns;
    answer.checks.push_back({"liquefaction", good ? Verdict::pass : Verdict::fail,
                             fmt::format("{}; the lowest ambient temperature is {:.2f} degC", where,
                                         *limits.lowest_ambient_k - 273.15),
                             good ? "" : "below it density falls and the monitor will warn without any leak",
                             "simple"});
}

void check_level(Answer& answer, char const* name, std::optional<Filling> const& level, FillState const& s,
                 FillLimits const& limits)
{
    if (!level)
        return;
    auto const& now = s.density_now;
    double const expanded = now.expanded();
    auto const decision = decide(now.value, now.value - expanded, now.value + expanded, level->density_kg_m3,
                                 Side::at_least, limits.rule);
    Check check{name,
                verdict_of(decision.outcome),
                fmt::format("density now {:.3f} ± {:.3f} kg/m3, {} density {:.3f} kg/m3", now.value, expanded,
                            name, level->density_kg_m3),
                {},
                rule_of(limits)};
    if (check.verdict == Verdict::undecided)
        check.remedy = instrument_needed(now, "pressure", decision.expanded_needed, 1e3, "kPa");
    answer.checks.push_back(std::move(check));
}

void check_equalisation(Answer& answer, FillState const& s, FillLimits const& limits)
{
    if (!limits.air_temperature_k)
        return;
    double const apart = *limits.air_temperature_k - s.temperature_k;
    double const step = 0.5;
    auto const moved = gas::density_kg_m3(s.species, s.temperature_k + step, s.pressure_pa);
    double const per_kelvin = moved ? std::fabs(*moved - s.density_now.value) / step : 0.0;
    // The difference matters once it moves the density by more than the instruments leave open.
    double const allowed = limits.temperature_agreement_k ? *limits.temperature_agreement_k
                           : per_kelvin > 0.0             ? s.density_now.expanded() / per_kelvin
                                                          : 0.0;
    bool const good = std::fabs(apart) <= allowed;
    Check check{"equalisation",
                good ? Verdict::pass : Verdict::undecided,
                fmt::format("gas is {:.1f} K {} than the air; up to {:.2f} K would not show in the density",
                            std::fabs(apart), apart > 0.0 ? "colder" : "warmer", allowed),
                {},
                "simple"};
    if (!good) {
        check.remedy = fmt::format("wait until gas and air agree within {:.2f} K", allowed);
        if (limits.equalisation_time_s && allowed > 0.0) {
            double const wait = *limits.equalisation_time_s * std::log(std::fabs(apart) / allowed);
            check.remedy = fmt::format("wait until gas and air agree within {:.2f} K, about {:.0f} min",
                                       allowed, wait / 60.0);
            answer.add("equalisation_wait", wait, "s");
        }
        if (auto const later =
                gas::pressure_pa(s.species, *limits.air_temperature_k, s.target_density_kg_m3)) {
            check.remedy += fmt::format(". The target is then {:.2f} kPa g", (*later - s.barometer_pa) / 1e3);
            answer.add("target_pressure_gauge_equalised", *later - s.barometer_pa, "Pa");
        }
    }
    Figure const* wait = answer.find("equalisation_wait");
    answer.facts["wait"] = good   ? std::string("none needed")
                           : wait ? fmt::format("about {:.0f} min", wait->value / 60.0)
                                  : std::string("until gas and air agree");
    answer.checks.push_back(std::move(check));
}

void check_cylinder(Answer& answer, FillState const& s, FillLimits const& limits)
{
    if (limits.cylinder_contents_kg) {
        double const needed = std::fmax(s.mass.value + s.mass.expanded(), 0.0);
        double const contents = *limits.cylinder_contents_kg;
        double const cylinders = contents > 0.0 ? std::ceil(needed / contents) : 0.0;
        answer.add("cylinders", cylinders, "pcs");
        bool const good = needed <= contents;
        answer.checks.push_back(
            {"cylinder_contents", good ? Verdict::pass : Verdict::fail,
             fmt::format("up to {:.3f} kg needed, {:.3f} kg in one cylinder", needed, contents),
             good ? "" : fmt::format("bring {:.0f} cylinders", cylinders), "guarded"});
    }
    if (limits.air_temperature_k) { // a cylinder at air temperature cannot push past its own vapour pressure
        auto const vapour = gas::saturation(s.species, *limits.air_temperature_k);
        if (vapour && vapour->pressure_pa < s.target_pressure_pa)
            answer.checks.push_back(
                {"cylinder_pressure", Verdict::fail,
                 fmt::format("a cylinder at {:.1f} degC gives at most {:.1f} kPa abs, below the "
                             "target {:.1f} kPa abs",
                             *limits.air_temperature_k - 273.15, vapour->pressure_pa / 1e3,
                             s.target_pressure_pa / 1e3),
                 "use a gas cart with compressor, or keep the cylinder in a warm room", "simple"});
    }
}

} // namespace

FillLimits read_fill_limits(Inputs& in, gas::Species species)
{
    FillLimits limits;
    limits.warn = read_filling(in, "warn", species);
    limits.lockout = read_filling(in, "lockout", species);
    limits.max_pressure_pa = in.optional_absolute_pressure("max_pressure");
    limits.lowest_ambient_k = in.optional_quantity("lowest_ambient", Dimension::temperature);
    limits.air_temperature_k = in.optional_quantity("air_temperature", Dimension::temperature);
    limits.equalisation_time_s = in.optional_quantity("equalisation_time", Dimension::time);
    limits.temperature_agreement_k =
        in.optional_quantity("temperature_agreement", Dimension::temperature_difference);
    limits.fill_tolerance = in.optional_quantity("fill_tolerance", Dimension::fraction);
    if (!in.error() && limits.fill_tolerance &&
        !(*limits.fill_tolerance >= 0.0 && *limits.fill_tolerance < 0.5))
        in.refuse(Error::Code::out_of_range, "fill_tolerance",
                  "lies between 0 % and 50 % of the filling density");
    limits.cylinder_contents_kg = in.optional_quantity("cylinder_contents", Dimension::mass);
    limits.rule = read_rule(in);
    return limits;
}

void add_fill_checks(Answer& answer, FillState const& state, FillLimits const& limits)
{
    check_overfill(answer, state, limits);
    check_liquefaction(answer, state, limits);
    check_level(answer, "warn", limits.warn, state, limits);
    check_level(answer, "lockout", limits.lockout, state, limits);
    check_equalisation(answer, state, limits);
    check_cylinder(answer, state, limits);
}

} // namespace isochore::calc
