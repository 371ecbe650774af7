#include "calc/fill_account.h"
#include "calc/filling.h"
#include "calc/gas_inputs.h"
#include "calc/uncertain.h"
#include "gas/state.h"
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;
using uncertainty::Budget;
using Values = std::span<double const>;

enum Place : std::size_t {
    scale_before,
    scale_after,
    p_before,
    t_before,
    p_after,
    t_after,
    volume,
    hose,
    equation,
    places
};

struct Account {
    gas::Species species = gas::Species::sf6;
    std::array<uncertainty::Input, places> inputs;

    [[nodiscard]] Result<double> density(Values v, std::size_t t, std::size_t p) const
    {
        auto const rho = gas::density_kg_m3(species, v[t], v[p]);
        return rho ? Result<double>(*rho * (1.0 + v[equation])) : rho;
    }
    [[nodiscard]] Result<double> from_cylinder(Values v) const { return v[scale_before] - v[scale_after]; }
    [[nodiscard]] Result<double> into_breaker(Values v) const
    {
        auto const before = density(v, t_before, p_before), after = density(v, t_after, p_after);
        if (!before || !after)
            return !before ? before : after;
        return v[volume] * (*after - *before);
    }
    [[nodiscard]] Result<double> in_breaker(Values v) const
    {
        auto const after = density(v, t_after, p_after);
        return after ? Result<double>(v[volume] * *after) : after;
    }
    [[nodiscard]] Result<double> density_after(Values v) const { return density(v, t_after, p_after); }
    [[nodiscard]] Result<double> in_hoses(Values v) const
    {
        auto const after = density(v, t_after, p_after);
        return after ? Result<double>(v[hose] * *after) : after;
    }
    [[nodiscard]] Result<double> loss(Values v) const
    {
        auto const gained = into_breaker(v), hoses = in_hoses(v);
        if (!gained || !hoses)
            return !gained ? gained : hoses;
        return v[scale_before] - v[scale_after] - *gained - *hoses;
    }
};

struct State {
    double temperature_k = 293.15, pressure_pa = 1e5;
};

/// {temperature, pressure} of the breaker's gas; the barometer of the calculation serves both states.
State read_state(Inputs& in, std::string_view name)
{
    Json object = in.raw(name);
    if (object.is_null())
        in.refuse(Code::missing_input, name,
                  "is required: {temperature, pressure} of the gas in the breaker");
    if (in.error())
        return {};
    if (object.is_object())
        for (char const* shared : {"baro", "altitude"})
            if (Json const& value = in.raw(shared); !value.is_null() && !object.contains(shared))
                object[shared] = value;
    Inputs state(object, in.place(name));
    State const read{state.quantity("temperature", Dimension::temperature),
                     state.absolute_pressure("pressure")};
    state.raw("baro");
    state.raw("altitude");
    state.refuse_unread();
    in.absorb(state);
    return read;
}

Account read_account(Inputs& in)
{
    Account account;
    account.species = read_gas(in);
    double const before = in.quantity("cylinder_before", Dimension::mass);
    double const after = in.quantity("cylinder_after", Dimension::mass);
    State const s1 = read_state(in, "before"), s2 = read_state(in, "after");
    double const v = in.quantity("volume", Dimension::volume);
    double const hoses = in.quantity_or("hose_volume", Dimension::volume, 0.0);
    double const scale_limit = in.quantity_or("scale_limit", Dimension::mass, 0.0);
    if (!in.error() && (!(v > 0.0) || hoses < 0.0 || before < 0.0 || after < 0.0 || scale_limit < 0.0))
        in.refuse(Code::out_of_range,
                  !(v > 0.0)          ? "volume"
                  : hoses < 0.0       ? "hose_volume"
                  : scale_limit < 0.0 ? "scale_limit"
                  : before < 0.0      ? "cylinder_before"
                                      : "cylinder_after",
                  "must not be negative");
    if (!in.error() && after > before)
        in.refuse(
            Code::out_of_range, "cylinder_after",
            fmt::format(
                "the cylinder weighs {:.3f} kg more than before: gas was taken back, or the two weights are "
                "exchanged",
                after - before));
    Uncertainties u(in);
    uncertainty::Input weight{"scale before",
                              before,
                              scale_limit / std::sqrt(3.0),
                              uncertainty::Shape::rectangular,
                              std::numeric_limits<double>::infinity(),
                              "limit of error / sqrt 3"};
    account.inputs[scale_before] = weight;
    weight.name = "scale after";
    weight.value = after;
    account.inputs[scale_after] = weight;
    auto const named = [&](char const* member, char const* shown, double value, Dimension d) {
        auto input = u.read(member, value, d);
        input.name = shown;
        return input;
    };
    account.inputs[p_before] =
        named("pressure", "pressure before", s1.pressure_pa, Dimension::pressure_difference);
    account.inputs[t_before] =
        named("temperature", "temperature before", s1.temperature_k, Dimension::temperature_difference);
    account.inputs[p_after] =
        named("pressure", "pressure after", s2.pressure_pa, Dimension::pressure_difference);
    account.inputs[t_after] =
        named("temperature", "temperature after", s2.temperature_k, Dimension::temperature_difference);
    account.inputs[volume] = u.read("volume", v, Dimension::volume);
    account.inputs[hose] =
        hoses > 0.0 ? u.read("hose_volume", hoses, Dimension::volume) : uncertainty::Input{};
    u.finish();
    if (!in.error() && scale_limit == 0.0)
        in.note("no scale_limit given: the scale is taken as exact");
    account.inputs[equation] = {"equation of state",
                                0.0,
                                gas::equation(account.species).data().u_density_gas,
                                uncertainty::Shape::normal,
                                std::numeric_limits<double>::infinity(),
                                std::string(gas::equation(account.species).data().citation)};
    return account;
}

/// What left the breaker since the last fill is leakage, and no part of today's handling.
void add_leakage(Answer& answer, Account const& account, double last, std::optional<double> as_found,
                 std::optional<double> u_as_found, double added)
{
    constexpr std::size_t found = places;
    std::array<uncertainty::Input, places + 1> inputs;
    std::copy(account.inputs.begin(), account.inputs.end(), inputs.begin());
    inputs[found] = {"density as found",
                     as_found.value_or(0.0),
                     as_found ? u_as_found.value_or(0.0) : 0.0,
                     uncertainty::Shape::normal,
                     std::numeric_limits<double>::infinity(),
                     "density as found"};
    auto const leaked = uncertainty::first_order(
        [&](Values v) {
            auto const before = as_found ? Result<double>(v[found]) : account.density(v, t_before, p_before);
            return before ? Result<double>((v[volume] - added) * (last - *before)) : before;
        },
        inputs);
    if (!leaked)
        return;
    answer.results.push_back(figure("leakage_since_last_fill", "kg", *leaked));
    answer.working.push_back(
        {"leakage = (V - added) (rho_last - rho_found)",
         fmt::format("{:.5g} m3 ({:.4f} - {:.4f}) kg/m3 = {:.4f} kg", account.inputs[volume].value - added,
                     last,
                     as_found ? *as_found : last - leaked->value / (account.inputs[volume].value - added),
                     leaked->value),
         "conservation of mass"});
}

void check_balance(Answer& answer, Budget const& loss)
{
    double const expanded = loss.expanded();
    Check check{"balance", Verdict::pass, {}, {}, "guarded"};
    if (loss.value + expanded < 0.0) {
        check.verdict = Verdict::fail;
        check.text =
            fmt::format("the breaker gained {:.3f} ± {:.3f} kg more than the cylinder lost: that cannot be",
                        -loss.value, expanded);
        check.remedy =
            "one of gauge, thermometer, scale or volume is wrong: weigh again and check the gas temperature";
    } else if (loss.value - expanded <= 0.0) {
        check.text = fmt::format(
            "scale and density agree: a handling loss of {:.3f} ± {:.3f} kg cannot be told from none",
            loss.value, expanded);
    } else {
        check.text =
            fmt::format("{:.3f} ± {:.3f} kg left the cylinder and is not in the breaker: handling loss",
                        loss.value, expanded);
    }
    answer.checks.push_back(std::move(check));
}

} // namespace

Result<Answer> fill_account(Inputs& in)
{
    Account const account = read_account(in);
    std::string const cylinder = in.text_or("cylinder", "");
    auto const gwp = in.optional_quantity("gwp", Dimension::count);
    std::string const gwp_source = in.text_or("gwp_source", "");
    auto const limit = in.optional_quantity("handling_loss_limit", Dimension::mass);
    auto const last = read_filling(in, "last_density", account.species);
    // The pipe fitted today held nothing since the last fill, and what was drawn off today did not leak.
    auto const as_found = in.optional_quantity("density_as_found", Dimension::density);
    auto const u_as_found = in.optional_quantity("u_density_as_found", Dimension::density);
    double const added = in.quantity_or("added_volume", Dimension::volume, 0.0);
    if (!in.error() && !(added >= 0.0 && added < account.inputs[volume].value))
        in.refuse(Code::out_of_range, "added_volume", "is a part of the volume, and less than all of it");
    auto const rule = read_rule(in);
    if (!in.error() && gwp && !(*gwp >= 1.0 && *gwp < 100000.0))
        in.refuse(Code::out_of_range, "gwp", "a global warming potential lies between 1 and 100000");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const budget = [&](auto quantity) {
        return uncertainty::first_order([&](Values v) { return (account.*quantity)(v); }, account.inputs);
    };
    auto const taken = budget(&Account::from_cylinder), gained = budget(&Account::into_breaker);
    auto const hoses = budget(&Account::in_hoses), loss = budget(&Account::loss);
    auto const holds = budget(&Account::in_breaker), after = budget(&Account::density_after);
    for (auto const* part : {&taken, &gained, &hoses, &loss, &holds, &after})
        if (!*part)
            return at_input({part->error().code,
                             part->error().where == "pressure" ? "after.pressure" : "after.temperature",
                             part->error().detail});

    Answer answer;
    if (!cylinder.empty())
        answer.facts["cylinder"] = cylinder;
    answer.results.push_back(figure("mass_from_cylinder", "kg", *taken));
    answer.results.push_back(figure("mass_into_breaker", "kg", *gained));
    answer.results.push_back(figure("mass_in_breaker", "kg", *holds));
    answer.results.push_back(figure("mass_in_hoses", "kg", *hoses));
    answer.results.push_back(figure("handling_loss", "kg", *loss));
    answer.results.push_back(figure("density_after", "kg/m3", *after));
    if (gwp) {
        answer.add("co2e", loss->value * *gwp / 1e3, "t CO2e", loss->u * *gwp / 1e3);
        answer.notes.push_back(fmt::format(
            "GWP {:.0f}{}", *gwp, gwp_source.empty() ? ", source not given" : " from " + gwp_source));
    }
    answer.working.push_back(
        {"loss = (cylinder before - after) - V (rho_after - rho_before) - V_hose rho_after",
         fmt::format("{:.4f} kg - {:.4f} kg - {:.4f} kg = {:.4f} kg", taken->value, gained->value,
                     hoses->value, loss->value),
         "conservation of mass"});
    show_budget(answer, *loss);
    check_balance(answer, *loss);
    if (limit) {
        auto const d =
            uncertainty::decide(loss->value, loss->value - loss->expanded(), loss->value + loss->expanded(),
                                *limit, uncertainty::Side::at_most, rule);
        answer.checks.push_back(
            {"handling_loss", verdict_of(d.outcome),
             fmt::format("{:.3f} ± {:.3f} kg, limit {:.3f} kg", loss->value, loss->expanded(), *limit),
             verdict_of(d.outcome) == Verdict::undecided
                 ? fmt::format("a balance known to within {:.3f} kg would decide", d.expanded_needed)
                 : "",
             uncertainty::rule_name(rule)});
    }
    if (last)
        add_leakage(answer, account, last->density_kg_m3, as_found, u_as_found, added);
    return answer;
}

} // namespace isochore::calc
