#include "session/prediction.h"
#include "calc/registry.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace isochore::session {

using model::Step;

namespace {

/// Into the unit and, of a pressure, the reference in which it is to be said.
void say_in(std::string_view unit, Context const& context, Step const& step, Prediction& p)
{
    auto const like = parse_amount(fmt::format("1 {}", unit), step.dimension, step.id);
    if (!like)
        return;
    p.unit = like->unit;
    if (like->reference == p.reference || p.reference == PressureReference::none)
        return;
    double const air = air_of(context).pressure_pa;
    double const shift = like->reference == PressureReference::gauge ? -air : air;
    p.value += shift, p.low += shift, p.high += shift;
    p.reference = like->reference;
}

std::string text_of(Prediction const& p)
{
    auto const in = [&](double si) { return p.unit->from_si(si); };
    double const size = std::max(1e-9, std::fabs(in(p.value)));
    int const digits = p.high > p.low ? decimals_for((p.high - p.low) / 4.0 / p.unit->factor, 4)
                                      : std::max(0, 3 - static_cast<int>(std::floor(std::log10(size))));
    std::string text = show_fixed(in(p.value), digits) + " " + std::string(p.unit->label());
    if (p.reference != PressureReference::none)
        text += p.reference == PressureReference::gauge ? " g" : " abs";
    if (p.high > p.low)
        text = fmt::format("{} (95 %: {} to {})", text, show_fixed(in(p.low), digits),
                           show_fixed(in(p.high), digits));
    return text;
}

} // namespace

std::optional<Prediction> predict(Context const& context, Step const& step, std::string_view unit)
{
    if (!step.expected)
        return std::nullopt;
    auto const answer = calc::run(step.expected->calc, resolve_inputs(context, *step.expected));
    if (!answer)
        return std::nullopt;
    calc::Figure const* figure = answer->find(step.expected->result);
    for (auto const& f : answer->expected)
        if (!figure && f.name == step.expected->result)
            figure = &f;
    if (!figure)
        return std::nullopt;
    Unit const* own = find_unit(figure->unit, step.dimension);
    if (!own)
        return std::nullopt;
    Prediction p;
    p.value = own->to_si(figure->value);
    double const u = figure->u ? *figure->u * own->factor : 0.0;
    p.low = figure->low ? own->to_si(*figure->low) : p.value - 2.0 * u;
    p.high = figure->high ? own->to_si(*figure->high) : p.value + 2.0 * u;
    p.unit = &si_unit(step.dimension);
    if (step.dimension == Dimension::pressure) {
        bool const gauge = figure->name.find("gauge") != std::string::npos;
        p.reference = gauge ? PressureReference::gauge : PressureReference::absolute;
    }
    if (!unit.empty() || !step.units.empty())
        say_in(unit.empty() ? std::string_view(step.units.front()) : unit, context, step, p);
    p.text = text_of(p);
    return p;
}

std::string unit_as_typed(Amount const& amount)
{
    std::string const name(amount.unit->name);
    return amount.reference == PressureReference::gauge      ? name + " g"
           : amount.reference == PressureReference::absolute ? name + " abs"
                                                             : name;
}

Json to_json(Prediction const& p)
{
    Json stored{{"text", p.text}, {"low", p.low}, {"high", p.high}, {"value", p.value}};
    if (p.reference != PressureReference::none)
        stored["reference"] = p.reference == PressureReference::gauge ? "gauge" : "absolute";
    return stored;
}

std::optional<Prediction> stored_prediction(Json const& stored)
{
    double const none = std::numeric_limits<double>::quiet_NaN();
    Prediction p;
    p.value = number_member(stored, "value", none);
    p.low = number_member(stored, "low", none);
    p.high = number_member(stored, "high", none);
    if (!std::isfinite(p.value) || !std::isfinite(p.low) || !std::isfinite(p.high))
        return std::nullopt;
    std::string const reference = text_member(stored, "reference");
    p.reference = reference == "gauge"      ? PressureReference::gauge
                  : reference == "absolute" ? PressureReference::absolute
                                            : PressureReference::none;
    p.text = text_member(stored, "text");
    return p;
}

} // namespace isochore::session
