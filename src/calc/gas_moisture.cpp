#include "calc/gas_moisture.h"
#include "calc/gas_inputs.h"
#include "calc/uncertain.h"
#include "gas/atmosphere.h"
#include "gas/moisture.h"
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;

constexpr char const* formulas = "IAPWS R14-08(2011) over ice, IAPWS R7-97(2012) region 4 over water";

/// What the probe showed: a condensation temperature or a share by volume.
struct Shown {
    char const* name = "frost_point";
    double value = 0.0;
    bool is_share = false;
};

Shown read_shown(Inputs& in)
{
    Shown shown;
    int given = 0;
    for (char const* name : {"frost_point", "dew_point", "ppmv"}) {
        in.raw(name);
        if (!in.has(name))
            continue;
        ++given;
        shown.name = name;
        shown.is_share = std::string_view(name) == "ppmv";
        shown.value = in.quantity(name, shown.is_share ? Dimension::fraction : Dimension::temperature);
    }
    if (!in.error() && given != 1)
        in.refuse(given == 0 ? Code::missing_input : Code::invalid_input, shown.name,
                  "give exactly one of frost_point, dew_point and ppmv");
    if (in.error())
        return shown;
    if (shown.is_share && !(shown.value > 0.0 && shown.value < 0.2))
        in.refuse(Code::out_of_range, "ppmv", "must lie above 0 and below 200000 ppmv");
    if (std::string_view(shown.name) == "frost_point" && shown.value > gas::water_triple_k)
        in.refuse(Code::out_of_range, "frost_point",
                  "there is no frost above 0.01 degC: give it as dew_point");
    if (std::string_view(shown.name) == "dew_point" && shown.value < gas::water_triple_k)
        in.note("a dew point below 0 degC is taken over ice, as a frost point");
    return shown;
}

/// Share of water by volume, from what was shown at the pressure of the cell.
Result<double> share_of(Shown const& shown, double value, double cell_pa)
{
    if (shown.is_share)
        return value;
    auto const e = gas::vapour_pressure_at_point_pa(value);
    return e ? Result<double>(*e / cell_pa) : e;
}

void check_limits(Inputs& in, Answer& answer, uncertainty::Budget const& point,
                  uncertainty::Budget const& share, std::optional<double> limit_point,
                  std::optional<double> limit_share, uncertainty::Rule rule)
{
    auto const add = [&](char const* name, uncertainty::Budget const& b, double limit, std::string text) {
        auto const decision = uncertainty::decide(b.value, b.value - b.expanded(), b.value + b.expanded(),
                                                  limit, uncertainty::Side::at_most, rule);
        Check check{name, verdict_of(decision.outcome), std::move(text), {}, uncertainty::rule_name(rule)};
        if (check.verdict == Verdict::fail)
            check.remedy =
                "dry the gas: change the desiccant or circulate through a filter, and measure again after "
                "it has rested";
        if (check.verdict == Verdict::undecided)
            check.remedy = limit == b.value ? "the reading is the limit itself: measure again later"
                                            : fmt::format("a probe known to within {:.3g} {} would decide",
                                                          name[0] == 'p' ? decision.expanded_needed * 1e6
                                                                         : decision.expanded_needed,
                                                          name[0] == 'p' ? "ppmv" : "K");
        answer.checks.push_back(std::move(check));
    };
    if (limit_point)
        add("dew_point", point, *limit_point,
            fmt::format("{:.1f} ± {:.1f} degC at gas pressure, limit {:.1f} degC", point.value - 273.15,
                        point.expanded(), *limit_point - 273.15));
    if (limit_share)
        add("ppmv", share, *limit_share,
            fmt::format("{:.0f} ± {:.0f} ppmv, limit {:.0f} ppmv", share.value * 1e6, share.expanded() * 1e6,
                        *limit_share * 1e6));
    if (limit_point || limit_share)
        in.note("moisture hides in insulation and desiccant: judge it hours to days after filling");
}

} // namespace

Result<Answer> gas_moisture(Inputs& in)
{
    double const gas_pa = in.absolute_pressure("gas_pressure");
    double const cell_pa = in.optional_absolute_pressure("measured_at").value_or(gas_pa);
    Shown const shown = read_shown(in);
    auto const limit_point = in.optional_quantity("limit", Dimension::temperature);
    auto const limit_share = in.optional_quantity("limit_ppmv", Dimension::fraction);
    auto const rule = read_rule(in);
    std::array<uncertainty::Input, 1> probe;
    Uncertainties u(in);
    probe[0] = u.read(shown.name, shown.value,
                      shown.is_share ? Dimension::fraction : Dimension::temperature_difference);
    u.finish();
    if (!in.error() && limit_share && !(*limit_share > 0.0 && *limit_share < 1.0))
        in.refuse(Code::out_of_range, "limit_ppmv", "must lie above 0 and below 1000000 ppmv");
    if (!in.error() && !(gas_pa > 0.0 && cell_pa > 0.0))
        in.refuse(Code::out_of_range, gas_pa > 0.0 ? "measured_at" : "gas_pressure", "must be above vacuum");
    if (in.error())
        return tl::unexpected(*in.error());

    auto const share = uncertainty::first_order(
        [&](std::span<double const> v) { return share_of(shown, v[0], cell_pa); }, probe);
    if (!share)
        return at_input({share.error().code, shown.name, share.error().detail});
    if (share->value >= 1.0)
        return at_input(
            {Code::out_of_range, shown.name,
             fmt::format("water of {:.0f} Pa cannot be held in gas of {:.0f} Pa: check the pressure of the "
                         "measuring cell",
                         share->value * cell_pa, cell_pa)});
    auto const at_gas = uncertainty::first_order(
        [&](std::span<double const> v) {
            auto const x = share_of(shown, v[0], cell_pa);
            return x ? gas::condensation_temperature_k(*x * gas_pa) : x;
        },
        probe);
    auto const at_air = gas::condensation_temperature_k(share->value * gas::standard_pressure_pa);
    if (!at_gas || !at_air)
        return at_input({Code::out_of_range, shown.name, (!at_gas ? at_gas.error() : at_air.error()).detail});

    Answer answer;
    Figure ppmv = figure("ppmv", "ppmv", *share);
    ppmv.value *= 1e6;
    for (auto* part : {&ppmv.u, &ppmv.low, &ppmv.high})
        if (*part)
            **part *= 1e6;
    answer.results.push_back(ppmv);
    answer.results.push_back(figure("frost_point", "K", *at_gas));
    answer.add("frost_point_atmospheric", *at_air, "K");
    answer.add("vapour_pressure", share->value * gas_pa, "Pa", share->u * gas_pa);
    answer.add("gas_pressure", gas_pa, "Pa").add("cell_pressure", cell_pa, "Pa");
    if (!shown.is_share)
        answer.add("point_read", shown.value, "K", probe[0].u);
    answer.facts["condenses_as"] = at_gas->value < gas::water_triple_k ? "ice" : "water";
    answer.working.push_back(
        {"x = e(point)/p_cell, e_gas = x p_gas, frost point where e(t) = e_gas",
         fmt::format("x = {:.6g}, p_gas = {:.2f} kPa abs: e_gas = {:.4g} Pa, {:.3f} degC", share->value,
                     gas_pa / 1e3, share->value * gas_pa, at_gas->value - 273.15),
         formulas});
    answer.notes.push_back(
        "water vapour is counted as an ideal gas; at these pressures that is within the probe");
    show_budget(answer, *at_gas);
    check_limits(in, answer, *at_gas, *share, limit_point, limit_share, rule);
    return answer;
}

} // namespace isochore::calc
