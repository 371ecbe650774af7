#include "calc/leak_accumulation.h"
#include "calc/gas_inputs.h"
#include "calc/leak_limit.h"
#include "calc/uncertain.h"
#include "gas/leak.h"
#include <array>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;

enum Place : std::size_t { background, final_share, volume, pressure, temperature, duration, places };

bool says_percent(Json const& text)
{
    return text.is_string() && text.get<std::string>().find('%') != std::string::npos;
}

void refuse_impossible(Inputs& in, std::array<uncertainty::Input, places> const& x)
{
    if (in.error())
        return;
    if (x[background].value < 0.0 || x[background].value >= 1.0 || x[final_share].value < 0.0 ||
        x[final_share].value > 1.0)
        in.refuse(Code::out_of_range,
                  x[background].value < 0.0 || x[background].value >= 1.0 ? "background_ppmv" : "final_ppmv",
                  "a concentration lies between 0 and 1000000 ppmv");
    for (auto const& [place, name] : {std::pair{volume, "free_volume"}, std::pair{pressure, "pressure"},
                                      std::pair{temperature, "temperature"}, std::pair{duration, "duration"}})
        if (!(x[place].value > 0.0))
            in.refuse(Code::out_of_range, name, "must be above zero");
}

} // namespace

Result<Answer> leak_accumulation(Inputs& in)
{
    gas::Species const species = read_gas(in);
    std::array<uncertainty::Input, places> x;
    double const low = in.quantity("background_ppmv", Dimension::fraction);
    double const high = in.quantity("final_ppmv", Dimension::fraction);
    double const v = in.quantity("free_volume", Dimension::volume);
    double const dt = in.quantity("duration", Dimension::time);
    double const t = in.quantity("temperature", Dimension::temperature);
    double const p = in.absolute_pressure("pressure");
    double const gas_mass = in.quantity_or("gas_mass", Dimension::mass, 0.0);
    auto const rule = read_rule(in);
    Uncertainties u(in);
    x[background] = u.read("background_ppmv", low, Dimension::fraction);
    x[final_share] = u.read("final_ppmv", high, Dimension::fraction);
    x[volume] = u.read("free_volume", v, Dimension::volume);
    x[pressure] = u.read("pressure", p, Dimension::pressure_difference);
    x[temperature] = u.read("temperature", t, Dimension::temperature_difference);
    x[duration] = u.read("duration", dt, Dimension::time);
    u.finish();
    refuse_impossible(in, x);
    if (!in.error() && in.has("limit") && says_percent(in.raw("limit")) && !(gas_mass > 0.0))
        in.refuse(Code::missing_input, "gas_mass", "a limit in %/yr needs the mass of gas it refers to");
    auto const limit = in.error() ? std::nullopt : read_leak_limit(in, "limit", species, gas_mass);
    if (in.error())
        return tl::unexpected(*in.error());
    auto const rate = uncertainty::first_order(
        [&](std::span<double const> q) -> Result<double> {
            return gas::accumulation_leak_kg_s(species, q[final_share] - q[background], q[volume],
                                               q[pressure], q[temperature], q[duration]);
        },
        x);
    if (!rate)
        return at_input(rate.error());

    Answer answer;
    add_leak_figures(answer, species, rate->value, rate->u, rate->expanded(), gas_mass);
    answer.working.push_back(
        {"leak = (x_final - x_background) V p M/(R T dt)",
         fmt::format("{:.4g} ppmv in {:.5g} m3 at {:.2f} kPa and {:.2f} K over {:.0f} s: {}",
                     (high - low) * 1e6, v, p / 1e3, t, dt, mass_a_year(rate->value)),
         "IEC 60068-2-17 test Qm, accumulation (method from memory)"});
    answer.notes.push_back(
        "a bag that is not tight or not mixed makes the leak look smaller: check it with a calibrated "
        "leak");
    show_budget(answer, *rate);
    if (rate->value + rate->expanded() < 0.0)
        answer.checks.push_back({"rising", Verdict::undecided,
                                 "the concentration fell: background and final may be exchanged",
                                 "measure the background again, upwind, and repeat", ""});
    if (limit) {
        answer.add("limit_annual", limit->kg_s * gas::year_s, "kg");
        auto const d =
            uncertainty::decide(rate->value, rate->value - rate->expanded(), rate->value + rate->expanded(),
                                limit->kg_s, uncertainty::Side::at_most, rule);
        Check check{"leak",
                    verdict_of(d.outcome),
                    fmt::format("{} ± {} against {} ({})", mass_a_year(rate->value),
                                mass_a_year(rate->expanded()), mass_a_year(limit->kg_s), limit->typed),
                    {},
                    uncertainty::rule_name(rule)};
        if (check.verdict == Verdict::undecided && d.expanded_needed > 0.0)
            check.remedy = fmt::format(
                "leave the bag {:.1f} times as long: the uncertainty of the analyser then weighs less",
                rate->expanded() / d.expanded_needed);
        answer.checks.push_back(std::move(check));
    }
    return answer;
}

} // namespace isochore::calc
