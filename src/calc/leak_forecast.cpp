#include "calc/leak_forecast.h"
#include "calc/filling.h"
#include "calc/gas_inputs.h"
#include "calc/leak_limit.h"
#include "calc/uncertain.h"
#include "gas/leak.h"
#include "uncertainty/interval.h"
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;
using Values = std::span<double const>;

enum Place : std::size_t { density, rate, volume, places };

/// How the loss of density a second is known.
struct Loss {
    std::array<uncertainty::Input, places> inputs;
    std::string source;
    [[nodiscard]] double density_rate(Values v) const { return v[rate] / v[volume]; }
};

/// Standard uncertainty of one of the two dated densities: its own, else that of the density of today, since
/// the same instruments are taken.
double u_of_dated(Uncertainties& u, char const* name, double value, double u_now)
{
    return u.given(name) ? u.read(name, value, Dimension::density).u : u_now;
}

/// From two dated densities: (first - now)/time between them, in kg/s.
void from_history(Inputs& in, Uncertainties& u, Loss& loss, double v, double now)
{
    double const u_now = loss.inputs[density].u;
    double const first = in.quantity("earlier_density", Dimension::density);
    // After a fill the density of today says nothing of the leak: the one found before it does.
    if (auto const found = in.optional_quantity("later_density", Dimension::density))
        now = *found;
    double const age = in.quantity("earlier_age", Dimension::time);
    if (!in.error() && !(age > 0.0))
        in.refuse(Code::out_of_range, "earlier_age",
                  "is the time between the two densities and is above zero");
    if (in.error())
        return;
    loss.inputs[rate].value = v * (first - now) / age;
    loss.inputs[rate].u = v *
                          std::hypot(u_of_dated(u, "earlier_density", first, u_now),
                                     u_of_dated(u, "later_density", now, u_now)) /
                          age;
    loss.inputs[rate].source = "two dated densities";
}

Loss read_loss(Inputs& in, gas::Species species)
{
    Loss loss;
    double const v = in.quantity("volume", Dimension::volume);
    double const now = in.quantity("density", Dimension::density);
    if (!in.error() && !(v > 0.0 && now > 0.0))
        in.refuse(Code::out_of_range, v > 0.0 ? "density" : "volume", "must be above zero");
    // A checklist hands over all it has and says by `basis` what to stand on; without it exactly one is
    // given.
    std::string const basis =
        in.has("basis") ? in.one_of("basis", {"limit", "history", "measured"}) : std::string();
    bool const history = basis.empty() ? in.has("earlier_density") : basis == "history";
    char const* const rate_name = basis == "limit" ? "limit_rate" : "leak_rate";
    for (char const* one :
         {"earlier_density", "earlier_age", "later_density", "leak_rate", "leak_rate_u", "limit_rate"})
        in.raw(one);
    if (!in.error() && basis.empty() && history == in.has("leak_rate"))
        in.refuse(
            history ? Code::invalid_input : Code::missing_input, "leak_rate",
            "give either leak_rate (measured, or the tightness class) or earlier_density with earlier_age");
    double const typed = !in.error() && !history ? read_leak_rate(in, rate_name, species, v * now) : 0.0;
    Uncertainties u(in);
    loss.inputs[density] = u.read("density", now, Dimension::density);
    loss.inputs[volume] = u.read("volume", v, Dimension::volume);
    if (!basis.empty() && basis != "measured" && u.given("leak_rate"))
        (void)u.read("leak_rate", 0.0, Dimension::mass_flow); // given for the other ground of the forecast
    if (!basis.empty() && basis != "history")
        for (char const* dated : {"earlier_density", "later_density"})
            if (u.given(dated))
                (void)u.read(dated, now, Dimension::density);
    loss.inputs[rate] = {"leak_rate", typed, 0.0, uncertainty::Shape::normal, 1e12, "taken as exact"};
    if (history) {
        from_history(in, u, loss, v, now);
    } else if (basis == "limit") {
        loss.inputs[rate].source = "the limit: the most it may leak, so the times are the shortest";
    } else if (in.has("leak_rate_u") && !in.error()) {
        loss.inputs[rate].u = read_leak_rate(in, "leak_rate_u", species, v * now);
        loss.inputs[rate].source = "standard uncertainty given";
    } else if (u.given("leak_rate")) {
        loss.inputs[rate] = u.read("leak_rate", typed, Dimension::mass_flow);
    }
    u.finish();
    if (!in.error() && loss.inputs[rate].u < 0.0)
        in.refuse(Code::out_of_range, "leak_rate_u", "an uncertainty is not negative");
    return loss;
}

/// Time until a density is reached, its best value and where 95 % of the draws lie. The upper end is open
/// where more than one draw in forty does not leak at all.
void add_time(Inputs& in, Answer& answer, Loss const& loss, std::string const& name, double level)
{
    std::array<double, places> best{};
    for (std::size_t i = 0; i < places; ++i)
        best[i] = loss.inputs[i].value;
    auto const time_to = [&](Values v) {
        double const lost = loss.density_rate(v);
        return lost > 0.0 ? std::fmax(v[density] - level, 0.0) / lost
                          : std::numeric_limits<double>::infinity();
    };
    if (best[density] <= level) {
        answer.add("time_to_" + name, 0.0, "s");
        answer.checks.push_back(
            {name, Verdict::fail,
             fmt::format("the density is already at or below the {} value of {:.3f} kg/m3", name, level),
             "fill before the breaker goes back into service", ""});
        return;
    }
    uncertainty::Random random(uncertainty::usual_seed);
    std::vector<double> times;
    for (int i = 0; i < uncertainty::usual_draws; ++i) {
        std::array<double, places> v{};
        for (std::size_t k = 0; k < places; ++k)
            v[k] = loss.inputs[k].u == 0.0 ? loss.inputs[k].value : random.draw(loss.inputs[k]);
        times.push_back(time_to(v));
    }
    std::sort(times.begin(), times.end());
    double const low =
        times[static_cast<std::size_t>(uncertainty::beyond_each_end * uncertainty::usual_draws)];
    double const high =
        times[static_cast<std::size_t>((1.0 - uncertainty::beyond_each_end) * uncertainty::usual_draws)];
    double const value = time_to(best);
    std::string const figure = "time_to_" + name;
    if (!std::isfinite(value)) {
        in.note("no loss is to be seen, so no " + figure +
                " is given; where its interval has a low end, it is at least that");
        answer.facts[figure + "_interval"] = Json::array({std::isfinite(low) ? Json(low) : Json(), nullptr});
        return;
    }
    if (std::isfinite(high)) {
        answer.results.push_back({figure, value, "s", {}, low, high});
        answer.facts[figure + "_interval"] = Json::array({low, high});
    } else {
        answer.add(figure, value, "s");
        answer.facts[figure + "_interval"] = Json::array({low, nullptr});
        in.note(figure + ": the leak is not told from none, so the interval has no upper end");
    }
}

/// "2031-04": a month is as much as a forecast of years is worth.
std::string month_after(std::string const& today, double seconds)
{
    int year = 0;
    unsigned month = 0, day = 0;
    if (std::sscanf(today.c_str(), "%4d-%2u-%2u", &year, &month, &day) != 3)
        return {};
    std::chrono::year_month_day const start{std::chrono::year(year), std::chrono::month(month),
                                            std::chrono::day(day)};
    if (!start.ok() || !(seconds < 200.0 * gas::year_s))
        return {};
    std::chrono::year_month_day const then{std::chrono::sys_days(start) +
                                           std::chrono::days(static_cast<long>(seconds / 86400.0))};
    return fmt::format("{:04}-{:02}", static_cast<int>(then.year()), static_cast<unsigned>(then.month()));
}

/// The month of a level, and for the warning the month by which to fill: the low end of the interval, since
/// whoever plans an outage wants to be before it.
void add_days(Answer& answer, std::string const& today, std::string const& name)
{
    Figure const* time = answer.find("time_to_" + name);
    if (today.empty() || !time)
        return;
    if (std::string const month = month_after(today, time->value); !month.empty())
        answer.facts[name + "_month"] = month;
    if (name != "warn")
        return;
    double low = time->low.value_or(time->value);
    if (auto const interval = answer.facts.find("time_to_warn_interval");
        interval != answer.facts.end() && (*interval)[0].is_number())
        low = (*interval)[0].get<double>();
    std::string const month = month_after(today, low);
    answer.facts["fill_by"] = month.empty() ? "not within 200 years" : month;
}

void add_levels(Answer& answer, std::optional<Filling> const& warn, std::optional<Filling> const& lockout)
{
    if (warn)
        answer.add("warn_density", warn->density_kg_m3, "kg/m3");
    if (lockout)
        answer.add("lockout_density", lockout->density_kg_m3, "kg/m3");
}

} // namespace

Result<Answer> leak_forecast(Inputs& in)
{
    gas::Species const species = read_gas(in);
    Loss const loss = in.error() ? Loss{} : read_loss(in, species);
    std::string const today = in.text_or("today", "");
    auto const warn = read_filling(in, "warn", species);
    auto const lockout = read_filling(in, "lockout", species);
    if (!in.error() && !warn && !lockout)
        in.refuse(Code::missing_input, "warn", "give the warn or the lockout value to forecast");
    if (!in.error() && warn && lockout && lockout->density_kg_m3 >= warn->density_kg_m3)
        in.refuse(Code::invalid_input, "lockout", "the lockout value must lie below the warn value");
    if (in.error())
        return tl::unexpected(*in.error());

    Answer answer;
    if (warn)
        add_time(in, answer, loss, "warn", warn->density_kg_m3);
    if (lockout)
        add_time(in, answer, loss, "lockout", lockout->density_kg_m3);
    if (in.error())
        return tl::unexpected(*in.error());
    add_days(answer, today, "warn");
    add_days(answer, today, "lockout");
    add_levels(answer, warn, lockout);
    auto const& x = loss.inputs;
    answer.add("density", x[density].value, "kg/m3", x[density].u);
    answer.add("volume", x[volume].value, "m3", x[volume].u);
    answer.add("leak_rate", x[rate].value, "kg/s", x[rate].u);
    answer.add("annual_fraction", x[rate].value * gas::year_s / (x[volume].value * x[density].value) * 100.0,
               "%", x[rate].u * gas::year_s / (x[volume].value * x[density].value) * 100.0);
    answer.working.push_back(
        {"t = (rho - rho_level) V/leak",
         fmt::format("rho = {:.4f} kg/m3, V = {:.5g} m3, leak = {} ({})", x[density].value, x[volume].value,
                     mass_a_year(x[rate].value), x[rate].source),
         "conservation of mass; the leak is taken as steady"});
    if (x[rate].value < 0.0)
        answer.checks.push_back({"rising", Verdict::undecided,
                                 "the density rose between the two dates: no leak can be worked out",
                                 "check the dates, a fill in between, and the temperatures of both readings",
                                 ""});
    return answer;
}

} // namespace isochore::calc
