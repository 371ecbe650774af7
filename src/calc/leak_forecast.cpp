#include "calc/leak_forecast.h"
#include "calc/filling.h"
#include "calc/gas_inputs.h"
#include "calc/leak_limit.h"
#include "calc/uncertain.h"
#include "gas/leak.h"
#include <algorithm>
#include <array>
#include <cmath>
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

/// From two dated densities: (first - now)/time between them, in kg/s.
void from_history(Inputs& in, Loss& loss, double v, double now, double u_now)
{
    double const first = in.quantity("earlier_density", Dimension::density);
    double const age = in.quantity("earlier_age", Dimension::time);
    if (!in.error() && !(age > 0.0))
        in.refuse(Code::out_of_range, "earlier_age",
                  "is the time between the two densities and is above zero");
    if (in.error())
        return;
    loss.inputs[rate].value = v * (first - now) / age;
    // Two readings of the same instruments: each carries the uncertainty of the density.
    loss.inputs[rate].u = v * u_now * std::sqrt(2.0) / age;
    loss.inputs[rate].source = "two dated densities";
}

Loss read_loss(Inputs& in, gas::Species species)
{
    Loss loss;
    double const v = in.quantity("volume", Dimension::volume);
    double const now = in.quantity("density", Dimension::density);
    if (!in.error() && !(v > 0.0 && now > 0.0))
        in.refuse(Code::out_of_range, v > 0.0 ? "density" : "volume", "must be above zero");
    bool const history = in.has("earlier_density");
    in.raw("earlier_density");
    in.raw("earlier_age");
    in.raw("leak_rate");
    in.raw("leak_rate_u");
    if (!in.error() && history == in.has("leak_rate"))
        in.refuse(
            history ? Code::invalid_input : Code::missing_input, "leak_rate",
            "give either leak_rate (measured, or the tightness class) or earlier_density with earlier_age");
    double const typed = !in.error() && !history ? read_leak_rate(in, "leak_rate", species, v * now) : 0.0;
    Uncertainties u(in);
    loss.inputs[density] = u.read("density", now, Dimension::density);
    loss.inputs[volume] = u.read("volume", v, Dimension::volume);
    loss.inputs[rate] = {"leak_rate", typed, 0.0, uncertainty::Shape::normal, 1e12, "taken as exact"};
    if (history) {
        from_history(in, loss, v, now, loss.inputs[density].u);
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
    double const low = times[static_cast<std::size_t>(0.025 * uncertainty::usual_draws)];
    double const high = times[static_cast<std::size_t>(0.975 * uncertainty::usual_draws)];
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

} // namespace

Result<Answer> leak_forecast(Inputs& in)
{
    gas::Species const species = read_gas(in);
    Loss const loss = in.error() ? Loss{} : read_loss(in, species);
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
    auto const& x = loss.inputs;
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
