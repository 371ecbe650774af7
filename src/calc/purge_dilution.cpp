#include "calc/filling.h"
#include "calc/gas_inputs.h"
#include "calc/purge_plateau.h"
#include "calc/uncertain.h"
#include "gas/state.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {

using Code = Error::Code;

namespace {

/// A share as people say it: "0.67 %", below a tenth of a per cent "45 ppmv".
std::string share_text(double share)
{
    return share >= 1e-3 ? fmt::format("{:.3g} %", share * 100.0) : fmt::format("{:.3g} ppmv", share * 1e6);
}

} // namespace

/// Each cycle lowers the gas to the vent pressure and fills it to the fill pressure; air and gas mix.
Result<Answer> purge_dilution(Inputs& in)
{
    gas::Species species = gas::Species::sf6;
    in.raw("gas");
    if (in.has("gas"))
        species = read_gas(in);
    double const v = in.quantity("volume", Dimension::volume);
    double const t = in.quantity_or("temperature", Dimension::temperature, filling_reference_k);
    int const cycles = in.whole("cycles", 1, 1000);
    auto limit = in.optional_quantity("limit", Dimension::fraction);
    auto const purity = in.optional_quantity("purity_limit", Dimension::fraction);
    if (limit && purity)
        in.refuse(Code::invalid_input, "purity_limit", "says again what limit says: give one of the two");
    if (purity)
        limit = 1.0 - *purity;
    Json object = in.raw("pressures");
    if (object.is_null())
        in.refuse(Code::missing_input, "pressures", "is required: {\"vent\": …, \"fill\": …}");
    if (object.is_object())
        for (char const* shared : {"baro", "altitude"})
            if (Json const& value = in.raw(shared); !value.is_null() && !object.contains(shared))
                object[shared] = value;
    Inputs pressures(object, in.place("pressures"));
    double const vent = pressures.absolute_pressure("vent"), fill = pressures.absolute_pressure("fill");
    pressures.refuse_unread();
    in.absorb(pressures);
    if (!in.error() && !(v > 0.0))
        in.refuse(Code::out_of_range, "volume", "must be above zero");
    if (!in.error() && !(vent > 0.0 && fill > vent))
        in.refuse(Code::out_of_range, "pressures",
                  "the fill pressure must be above the vent pressure, and that above vacuum");
    if (!in.error() && limit && !(*limit > 0.0 && *limit < 1.0))
        in.refuse(Code::out_of_range, purity ? "purity_limit" : "limit",
                  purity ? "is a share of gas above 0 % and below 100 %"
                         : "is a share of air above 0 % and below 100 %");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const rho_fill = gas::density_kg_m3(species, t, fill),
               rho_vent = gas::density_kg_m3(species, t, vent);
    if (!rho_fill || !rho_vent)
        return at_input((!rho_fill ? rho_fill : rho_vent).error());

    double const residual = std::pow(vent / fill, cycles);
    double const each = v * (*rho_fill - *rho_vent);
    Answer answer;
    answer.add("residual_air", residual, "1");
    answer.add("gas_used", each * cycles, "kg");
    answer.add("gas_vented", each * (cycles - 1), "kg");
    answer.working.push_back(
        {"air left = (p_vent/p_fill)^n",
         fmt::format("({:.4g} kPa/{:.4g} kPa)^{} = {:.4g}", vent / 1e3, fill / 1e3, cycles, residual),
         "ideal mixing of volumes; the space begins full of air at the vent pressure"});
    answer.notes.push_back("dead legs mix badly: the air left in them does not follow this figure");
    if (limit) {
        bool const good = residual <= *limit;
        double const needed = std::ceil(std::log(*limit) / std::log(vent / fill) - 1e-9);
        answer.add("cycles_needed", needed, "pcs");
        std::string const text =
            purity ? fmt::format("{} of air left, a purity of at least {:.5g} % leaves room for {}",
                                 share_text(residual), *purity * 100.0, share_text(*limit))
                   : fmt::format("{:.4g} ppmv of air left, limit {:.4g} ppmv", residual * 1e6, *limit * 1e6);
        answer.checks.push_back({"residual_air", good ? Verdict::pass : Verdict::fail, text,
                                 good ? "" : fmt::format("{:.0f} cycles are needed", needed), "simple"});
    }
    return answer;
}

} // namespace isochore::calc
